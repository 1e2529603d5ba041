import type { VariantDocument } from '@kinprint/manifest';
import { unitOf } from '../check/measure-parts.ts';
import { revisionContent, type StateHistory } from '../history/content-at.ts';
import { standing } from '../state/digest.ts';
import { entryOf } from '../state/entries.ts';
import type { FileRef, RegistryFiles } from '../state/registry-files.ts';
import type { RegistryState } from '../state/types.ts';
import type { Candidate } from './find-kin.ts';
import { kinDefaults } from './kin-defaults.ts';

/** Where a mesh is registered. */
export interface KinPlace {
  /** `device/variant`, with `source:` before it for another registry. */
  readonly address: string;
  readonly part: string;
  /** A recorded letter from history; null for what the variant holds now. */
  readonly letter: string | null;
  /** Path of the mesh from the registry's root, now or then. */
  readonly mesh: string;
}

/**
 * The parts that the variants of a registry hold now. Parts without a file are left out: check names them.
 *
 * @param source the name that our registry gives this one; null for our own
 */
export async function presentParts(
  state: RegistryState,
  source: string | null,
): Promise<Candidate<KinPlace>[]> {
  const found: Candidate<KinPlace>[] = [];
  for (const variant of state.variants.values()) {
    const { address, folder, document, files } = variant;
    if (document.value === null) continue;
    found.push(...(await partsOf(state.files, folder, files, document.value, named(source, address), null)));
  }
  return found;
}

/**
 * The parts of recorded letters that are no longer what the variant holds, from history; the newest letters of each
 * variant first, and of all not more than `most`.
 *
 * @returns the parts, and how many letters were left out or could not be had; letters that the present content stands
 *   for are neither, as the present parts are theirs
 */
export async function recordedParts(
  state: RegistryState,
  history: StateHistory,
  source: string | null,
  most: number = kinDefaults.letters,
): Promise<{ readonly parts: Candidate<KinPlace>[]; readonly missing: number }> {
  const parts: Candidate<KinPlace>[] = [];
  let missing = 0;
  let looked = 0;
  for (const { address, document } of state.variants.values()) {
    const revisions = document.value?.revisions ?? [];
    const present = revisions.length === 0 ? null : (await standing(state, address)).digest;
    for (const { letter, digest } of [...revisions].reverse()) {
      if (digest === present) continue;
      if (++looked > most) {
        missing++;
        continue;
      }
      const found = await revisionContent(state, address, letter, history);
      if (!found.found || found.content.document.value === null) {
        missing++;
        continue;
      }
      const { files, folder, refs } = found.content;
      const place = named(source, address);
      parts.push(...(await partsOf(files, folder, refs, found.content.document.value, place, letter)));
    }
  }
  return { parts, missing };
}

/** The parts of one content of a variant that have a mesh to be read. */
export async function partsOf(
  files: RegistryFiles,
  folder: string,
  refs: readonly FileRef[],
  manifest: VariantDocument,
  address: string,
  letter: string | null,
): Promise<Candidate<KinPlace>[]> {
  const byPath = new Map(refs.map(ref => [ref.path, ref]));
  const found: Candidate<KinPlace>[] = [];
  for (const { id, mesh, unit } of manifest.parts) {
    const ref = byPath.get(`${folder}/${mesh}`);
    if (ref === undefined || ref.problem !== null) continue;
    const entry = await entryOf(files, ref).catch(() => null); // a file that is gone or may not be read
    if (entry !== null)
      found.push({ entry, unit: unitOf(unit), place: { address, part: id, letter, mesh: ref.path } });
  }
  return found;
}

function named(source: string | null, address: string): string {
  return source === null ? address : `${source}:${address}`;
}
