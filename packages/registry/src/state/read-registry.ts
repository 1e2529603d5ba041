import { isId, readDocument, type DocumentKind, type Problem, type ReadDocument } from '@kinprint/manifest';
import { byText } from '@kinprint/compare';
import { registryDefaults } from '../defaults.ts';
import type { LeftOutCode } from '../snapshot/left-out.ts';
import { layoutProblem } from './layout-problem.ts';
import { leftOutRemedies } from './left-out-remedies.ts';
import { nameProblems } from './name-problems.ts';
import { readTextFile } from './read-text.ts';
import { deviceFile, registryFile, variantFile, type FileRef, type RegistryFiles } from './registry-files.ts';
import type { DeviceState, DocumentReader, RegistryState, VariantState } from './types.ts';

/**
 * Reads all documents of a registry's state. Whatever a file holds is a result: a document with its problems, or a
 * problem of the layout.
 *
 * @param read how documents are read; one that remembers what it read saves most of the time
 * @throws InputError only when the state cannot be listed
 */
export async function readRegistry(
  files: RegistryFiles,
  read: DocumentReader = readDocument,
): Promise<RegistryState> {
  const refs = await files.list();
  const problems: Problem[] = (await files.notes()).map(note => {
    const { severity, remedy } = leftOutRemedies[note.code as LeftOutCode];
    return layoutProblem(note.code, severity, '', note.text, remedy);
  });
  const document = async <K extends DocumentKind>(kind: K, ref: FileRef): Promise<ReadDocument<K> | null> => {
    const text = await readTextFile(files, ref, registryDefaults.maxDocumentBytes);
    if (text.problem !== null) problems.push(text.problem);
    return text.text === null ? null : read(kind, text.text, ref.path);
  };

  const layout = sort(refs);
  const registry = layout.registry === null ? null : await document('registry', layout.registry);
  if (layout.registry === null)
    problems.push(
      layoutProblem(
        'registry-missing',
        'error',
        registryFile,
        `There is no ${registryFile}.`,
        'Make one with kinprint start.',
      ),
    );

  for (const { path, problem } of layout.links)
    problems.push(
      layoutProblem(
        'file-not-regular',
        'error',
        path,
        `${problem?.text ?? ''} Nothing behind it belongs to the registry.`,
        'Put the folder itself there, or take it out of devices/.',
      ),
    );

  for (const { path } of layout.noFolders)
    problems.push(
      layoutProblem(
        'folder-expected',
        'error',
        path,
        `'${path}' is a file, where the registry has a folder.`,
        'Move it elsewhere: whatever the registry holds there is missing.',
      ),
    );

  problems.push(...nameProblems(refs));
  const devices = new Map<string, DeviceState>();
  const variants = new Map<string, VariantState>();
  for (const [name, found] of [...layout.devices].sort(([a], [b]) => byText(a, b))) {
    const folder = `devices/${name}`;
    problems.push(...idProblems(name, folder));
    const addresses: string[] = [];
    for (const [variant, inside] of [...found.variants].sort(([a], [b]) => byText(a, b))) {
      const below = `${folder}/${variant}`;
      problems.push(...idProblems(variant, below));
      if (inside.manifest === null) {
        problems.push(
          layoutProblem(
            'manifest-missing',
            'warning',
            below,
            `The folder has no ${variantFile}, so it is no variant.`,
            `Add a ${variantFile}, or move its files to the variant that they belong to.`,
          ),
        );
        continue;
      }
      const address = `${name}/${variant}`;
      const manifest = await document('variant', inside.manifest);
      if (manifest === null) continue;
      addresses.push(address);
      variants.set(address, {
        address,
        device: name,
        variant,
        folder: below,
        document: manifest,
        files: inside.files,
      });
    }
    if (found.document === null)
      problems.push(
        layoutProblem(
          'device-missing',
          'error',
          `${folder}/${deviceFile}`,
          `The device has no ${deviceFile}.`,
          'Add one that says what the device is for.',
        ),
      );
    devices.set(name, {
      name,
      folder,
      document: found.document === null ? null : await document('device', found.document),
      variants: addresses,
    });
  }

  const advisories = new Map<string, ReadDocument<'advisory'>>();
  for (const ref of layout.advisories) {
    const advisory = await document('advisory', ref);
    if (advisory !== null) advisories.set(ref.path.slice('advisories/'.length, -'.yaml'.length), advisory);
  }
  return { files, registry, devices, variants, advisories, vetting: layout.vetting, problems };
}

interface VariantFolder {
  manifest: FileRef | null;
  readonly files: FileRef[];
}

interface DeviceFolder {
  document: FileRef | null;
  readonly variants: Map<string, VariantFolder>;
}

interface Layout {
  registry: FileRef | null;
  readonly devices: Map<string, DeviceFolder>;
  readonly advisories: FileRef[];
  readonly vetting: FileRef[];
  /** Links and the like where devices and variants have their folders. */
  readonly links: FileRef[];
  /** Files where the registry has its own folders. */
  readonly noFolders: FileRef[];
}

/** Which file belongs where, by its path alone. */
function sort(refs: readonly FileRef[]): Layout {
  const layout: Layout = {
    registry: null,
    devices: new Map(),
    advisories: [],
    vetting: [],
    links: [],
    noFolders: [],
  };
  for (const ref of refs) {
    const [top, device, variant, ...rest] = ref.path.split('/');
    const linked = ref.problem?.code === 'not-regular';
    if (ref.path === registryFile) layout.registry = ref;
    else if (device === undefined && !linked) layout.noFolders.push(ref);
    else if (linked && top === 'devices' && rest.length === 0 && variant !== deviceFile)
      layout.links.push(ref);
    else if (top === 'vetting') layout.vetting.push(ref);
    else if (top === 'advisories' && variant === undefined && ref.path.endsWith('.yaml'))
      layout.advisories.push(ref);
    else if (top === 'devices' && variant !== undefined) {
      const folder = getOr(layout.devices, device, () => ({ document: null, variants: new Map() }));
      if (rest.length === 0) {
        if (variant === deviceFile) folder.document = ref;
        continue;
      }
      const inside = getOr(folder.variants, variant, () => ({ manifest: null, files: [] }));
      if (rest.length === 1 && rest[0] === variantFile) inside.manifest = ref;
      else inside.files.push(ref);
    }
  }
  return layout;
}

function getOr<V>(map: Map<string, V>, key: string, make: () => V): V {
  const known = map.get(key);
  if (known !== undefined) return known;
  const made = make();
  map.set(key, made);
  return made;
}

function idProblems(name: string, folder: string): Problem[] {
  if (isId(name)) return [];
  return [
    layoutProblem(
      'folder-name',
      'error',
      folder,
      'The folder cannot be addressed by its name.',
      'Use lower-case letters, digits and single hyphens, at most 64.',
    ),
  ];
}
