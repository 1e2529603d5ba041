import type { VariantDocument } from '@kinprint/manifest';
import { clashes, foldPath as fold, nameTrouble } from '../../snapshot/portable-names.ts';
import type { FileRef } from '../../state/registry-files.ts';
import type { VariantState } from '../../state/types.ts';
import { finding, inFile, inManifest, type DocumentPath, type Finding } from '../finding.ts';

interface Named {
  readonly path: string;
  readonly declared: DocumentPath;
  readonly part: string;
}

/** Files that the manifest names and that are not there, files in `parts` that it does not name, and bad names. */
export function fileFindings(variant: VariantState, manifest: VariantDocument): Finding[] {
  const named = namedFiles(manifest);
  const present = new Map(variant.files.map(ref => [ref.path.slice(variant.folder.length + 1), ref]));
  const folded = new Map([...present.keys()].map(path => [fold(path), path]));
  return [
    ...named.flatMap(file => missing(variant, file, present, folded)),
    ...unlisted(variant, named, present),
    ...names(variant),
  ];
}

/** Every file that the manifest names. */
function namedFiles(manifest: VariantDocument): Named[] {
  return manifest.parts.flatMap((part, k) => [
    { path: part.mesh, declared: ['parts', k, 'mesh'], part: part.id },
    ...(part.source ?? []).map((path, i) => ({ path, declared: ['parts', k, 'source', i], part: part.id })),
  ]);
}

function missing(
  variant: VariantState,
  { path, declared, part }: Named,
  present: ReadonlyMap<string, FileRef>,
  folded: ReadonlyMap<string, string>,
): Finding[] {
  const ref = present.get(path);
  const say = (code: Parameters<typeof inManifest>[1], text: string, remedy: string): Finding[] => [
    inManifest(variant, code, declared, text, remedy, part),
  ];
  if (ref === undefined) {
    const other = folded.get(fold(path));
    return other === undefined
      ? say(
          'file-missing',
          `There is no file '${path}'.`,
          'Add the file (one that git ignores does not count), or correct the path.',
        )
      : say(
          'file-case',
          `There is no file '${path}', but '${other}'.`,
          'Write the name as the file has it: elsewhere the two are different files.',
        );
  }
  switch (ref.problem?.code) {
    case undefined:
      return [];
    case 'not-regular':
      return say('file-not-regular', `'${path}': ${ref.problem?.text ?? ''}`, ref.problem?.remedy ?? '');
    case 'lfs-pointer':
    case 'missing':
      return say('file-not-fetched', `'${path}': ${ref.problem?.text ?? ''}`, ref.problem?.remedy ?? '');
    case 'lfs-damaged':
    case 'too-large':
    case 'unreadable':
      return say('file-unreadable', `'${path}': ${ref.problem?.text ?? ''}`, ref.problem?.remedy ?? '');
  }
}

function unlisted(
  variant: VariantState,
  named: readonly Named[],
  present: ReadonlyMap<string, FileRef>,
): Finding[] {
  // A name that is only written otherwise is told as such.
  const known = new Set(named.map(({ path }) => fold(path)));
  return [...present.keys()]
    .filter(path => path.startsWith('parts/') && !known.has(fold(path)))
    .map(path =>
      finding(
        'file-unlisted',
        inFile(`${variant.folder}/${path}`),
        `No part of the manifest names '${path}'.`,
        'List it as a part, name it as the source of one, or move it out of parts/.',
        { variant: variant.address },
      ),
    );
}

function names(variant: VariantState): Finding[] {
  const of = { variant: variant.address };
  const findings: Finding[] = [];
  for (const { path, problem } of variant.files) {
    const inside = path.slice(variant.folder.length + 1);
    const trouble = nameTrouble(inside);
    if (trouble !== null)
      findings.push(
        finding(
          'file-name-unsafe',
          inFile(path),
          trouble,
          'Give it another name, here and in the manifest.',
          of,
        ),
      );
    if (problem?.code === 'not-regular' && !inside.startsWith('parts/'))
      findings.push(finding('file-not-regular', inFile(path), problem.text, problem.remedy, of));
  }
  const inside = variant.files.map(({ path }) => path.slice(variant.folder.length + 1));
  for (const { path, other } of clashes(inside))
    findings.push(
      finding(
        'file-names-clash',
        inFile(`${variant.folder}/${path}`),
        `'${path}' and '${other}' differ only in case or accents' encoding: many file systems hold only one of them.`,
        'Rename one of them.',
        of,
      ),
    );
  return findings;
}
