import {
  parseRevisionAddress,
  type Derivation,
  type RegistryDocument,
  type VariantDocument,
} from '@kinprint/manifest';
import { assemblyOf } from '../assembly/assembly-of.ts';
import type { InterferenceSearch } from '../assembly/interference-search.ts';
import type { Cache } from '../cache/cache.ts';
import type { RegistryState, VariantState } from '../state/types.ts';
import type { CheckOptions } from './types.ts';
import type { CloserLook } from './closer-look.ts';
import type { PartLook } from './facts.ts';
import { wantedMesh } from './measure-parts.ts';
import { cachedStanding } from './cached-standing.ts';
import { inManifest, ofProblem, type DocumentPath, type Finding } from './finding.ts';
import { nearPlanes } from './near-planes.ts';
import { likenessOf, type Content, type PartLikeness } from './likeness.ts';
import type { Relating } from '../work/relating.ts';
import { assemblyFindings } from './rules/assembly.ts';
import { clearanceFindings } from './rules/clearances.ts';
import { derivationFindings } from './rules/derivations.ts';
import { fileFindings } from './rules/files.ts';
import { fitFindings } from './rules/fit.ts';
import { interfaceFindings } from './rules/interfaces.ts';
import { licenseFindings } from './rules/licenses.ts';
import { meshFindings } from './rules/meshes.ts';
import { largeParts, printerFindings } from './rules/printers.ts';
import { layerFindings, materialFindings, wallFindings } from './rules/printing.ts';
import { referenceFindings } from './rules/references.ts';
import { revisionFindings } from './rules/revisions.ts';
import { unlikeFindings } from './rules/unlike.ts';
import { unsettledFindings } from './rules/unsettled.ts';
import { mayBeLost, usableDocument, usableVariant, type Lost } from './usable.ts';

export interface Means extends Pick<CheckOptions, 'sources' | 'recorded' | 'contentOf'> {
  readonly cache: Cache;
  readonly relating: Relating;
  readonly closer: CloserLook;
  readonly search: InterferenceSearch;
}

/**
 * Everything that can be wrong with one variant.
 *
 * @param looks what was measured of its parts, by their index; null or nothing where there is no mesh
 */
export async function checkVariant(
  state: RegistryState,
  variant: VariantState,
  looks: readonly (PartLook | null)[],
  means: Means,
): Promise<Finding[]> {
  const { document, address } = variant;
  const problems = document.problems.map(problem => ofProblem(problem, address));
  const usable = usableVariant(variant);
  const manifest = usable?.variant.document.value ?? null;
  if (usable === null || manifest === null) return problems; // nothing in it can be relied on
  const registry = state.registry === null ? null : usableDocument(state.registry);
  const lost: Lost = {
    manifest: usable.lost,
    registry: state.registry === null ? [] : (registry?.lost ?? [[]]),
  };
  const found = await manifestFindings(
    state,
    usable.variant,
    manifest,
    registry?.document.value ?? null,
    looks,
    means,
  );
  return [...problems, ...found.filter(({ code }) => !mayBeLost(code, lost))];
}

/** @param variant with a manifest that can be used; it may be the rest of one with problems */
async function manifestFindings(
  state: RegistryState,
  variant: VariantState,
  manifest: VariantDocument,
  registry: RegistryDocument | null,
  looks: readonly (PartLook | null)[],
  means: Means,
): Promise<Finding[]> {
  const { address, document } = variant;
  const device = state.devices.get(variant.device)?.document?.value ?? null;
  const recorded = means.recorded?.get(document.file) ?? [];
  // A manifest with problems has no digest.
  const whole = state.variants.get(address)?.document.value === manifest;
  const stands =
    manifest.revisions === undefined || !whole ? null : await cachedStanding(state, address, means.cache);
  const likeness = whole ? await likenesses(state, variant, manifest, means) : { found: [], failures: [] };
  const meshOf = (k: number) => wantedMesh(variant, manifest.parts[k]);
  const planes = await nearPlanes(
    state.files,
    manifest,
    manifest.parts.map((_, k) => meshOf(k)),
    looks,
    means,
  );
  const large = largeParts(manifest, registry, looks);
  const standing = await Promise.all(
    large.map(async ({ part, ways, printers }) => {
      const mesh = meshOf(part);
      const downs = ways.map(way => way.down);
      const volumes = printers.map(printer => printer.build_volume_mm);
      return mesh === null ? null : means.closer.stand(mesh, downs, volumes);
    }),
  );
  const assembled = await assemblyFound(state, variant, manifest, looks, means);
  return [
    ...fileFindings(variant, manifest),
    ...meshFindings(variant, manifest, looks),
    ...interfaceFindings(variant, manifest, looks, planes),
    ...clearanceFindings(variant, manifest),
    ...assembled,
    ...printerFindings(variant, manifest, large, standing),
    ...wallFindings(variant, manifest, registry, looks),
    ...materialFindings(variant, manifest, registry),
    ...layerFindings(variant, manifest),
    ...licenseFindings(variant, manifest, registry),
    ...revisionFindings(variant, manifest, recorded, stands),
    ...derivationFindings(variant, manifest, registry, state, means.sources ?? new Map()),
    ...unlikeFindings(variant, manifest, likeness.found),
    ...likeness.failures,
    ...referenceFindings(variant, manifest),
    ...fitFindings(variant, manifest, device),
    ...unsettledFindings(variant, manifest),
  ];
}

/** What is wrong with the parts as they are placed; nothing where none is. */
async function assemblyFound(
  { files }: RegistryState,
  variant: VariantState,
  manifest: VariantDocument,
  looks: readonly (PartLook | null)[],
  { cache, search, closer }: Means,
): Promise<Finding[]> {
  if ((manifest.assembly ?? []).length === 0) return [];
  const content = { files, folder: variant.folder, manifest, refs: variant.files };
  try {
    return assemblyFindings(variant, manifest, await assemblyOf(content, { cache, search, closer, looks }));
  } catch (error) {
    return [failed(variant, ['assembly'], 'Putting the parts together', error)];
  }
}

/** Whatever made one thing fail must not keep the rest from being checked. */
function failed(variant: VariantState, path: DocumentPath, what: string, error: unknown): Finding {
  const why = error instanceof Error ? error.message.split('\n')[0] : String(error);
  const remedy = 'Please report it with the files.';
  return inManifest(variant, 'check-failed', path, `${what} failed: ${why}`, remedy);
}

/** How the parts stand to those they are said to be made from, for relations that say something about the shape. */
async function likenesses(
  state: RegistryState,
  variant: VariantState,
  manifest: VariantDocument,
  means: Means,
): Promise<{
  readonly found: readonly (readonly PartLikeness[] | null)[];
  readonly failures: readonly Finding[];
}> {
  const newer = { files: state.files, folder: variant.folder, manifest, refs: variant.files };
  const found: (readonly PartLikeness[] | null)[] = [];
  const failures: Finding[] = [];
  for (const [k, { from, relation }] of (manifest.derivations ?? []).entries()) {
    const older = saysShape(relation) ? await olderContent(state, from, means) : null;
    try {
      found[k] =
        older === null
          ? null
          : await likenessOf(older, newer, relation === 'mirror', means.relating, means.cache);
    } catch (error) {
      found[k] = null;
      failures.push(failed(variant, ['derivations', k, 'relation'], `The comparison with ${from}`, error));
    }
  }
  return { found, failures };
}

/** Whether a relation says what the meshes must look like. */
export function saysShape(relation: Derivation['relation']): boolean {
  return relation === 'mirror' || relation === 'rescale' || relation === 'copy';
}

/** The content that a derivation names: the present one where it is still that, else what the history holds. */
async function olderContent(state: RegistryState, from: string, means: Means): Promise<Content | null> {
  const parts = parseRevisionAddress(from);
  if (parts === null) return null;
  const there = parts.source === null ? state : means.sources?.get(parts.source);
  const address = `${parts.device}/${parts.variant}`;
  const parent = there?.variants.get(address);
  const manifest = parent?.document.value ?? null;
  const entry = manifest?.revisions?.find(revision => revision.letter === parts.letter);
  if (there === undefined || parent === undefined || manifest === null || entry === undefined) return null;
  const now = await cachedStanding(there, address, means.cache);
  if (now.digest === entry.digest)
    return { files: there.files, folder: parent.folder, manifest, refs: parent.files };
  return (await means.contentOf?.(address, parts.letter, parts.source)) ?? null;
}
