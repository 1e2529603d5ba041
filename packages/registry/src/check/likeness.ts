import type { Comparison, Verdict } from '@kinprint/compare';
import type { VariantDocument } from '@kinprint/manifest';
import type { Unit } from '@kinprint/mesh';
import type { Cache } from '../cache/cache.ts';
import type { FileRef, RegistryFiles } from '../state/registry-files.ts';
import { entryOf } from '../state/entries.ts';
import { comparePair } from '../work/compare-entries.ts';
import { InputError } from '@kinprint/mesh';

/** How a part stands to the part of the same id that it came from. */
export interface PartLikeness {
  readonly part: string;
  readonly verdict: Verdict;
  readonly mirrored: boolean;
  readonly scaled: boolean;
  /** `is the same`, `is mirrored`, … */
  readonly words: string;
}

export interface Likeness {
  readonly parts: readonly PartLikeness[];
}

/** The content of one revision, as far as the comparison needs it. */
export interface Content {
  readonly files: RegistryFiles;
  readonly folder: string;
  readonly manifest: VariantDocument;
  readonly refs: readonly FileRef[];
}

type Kept = Pick<PartLikeness, 'verdict' | 'mirrored' | 'scaled'>;

const kind = 'likeness';
const version = 1;

/** Compares the parts of the same id; those without a counterpart, and unreadable ones, are left out. */
export async function likenessOf(older: Content, newer: Content, cache: Cache): Promise<Likeness> {
  const parts: PartLikeness[] = [];
  for (const part of newer.manifest.parts) {
    const other = older.manifest.parts.find(p => p.id === part.id);
    const before = other === undefined ? undefined : refOf(older, other.mesh);
    const after = refOf(newer, part.mesh);
    if (other === undefined || before === undefined || after === undefined) continue;
    // One reading of units holds for both sides of a comparison.
    if ((other.unit ?? null) !== (part.unit ?? null)) continue;
    const kept = await compared(older.files, before, newer.files, after, part.unit, cache);
    if (kept !== null) parts.push({ part: part.id, ...kept, words: wordsOf(kept) });
  }
  return { parts };
}

async function compared(
  olderFiles: RegistryFiles,
  before: FileRef,
  newerFiles: RegistryFiles,
  after: FileRef,
  unit: Unit | undefined,
  cache: Cache,
): Promise<Kept | null> {
  const hashes = [await olderFiles.sha256(before), await newerFiles.sha256(after)];
  if (hashes[0] === hashes[1]) return { verdict: 'identical', mirrored: false, scaled: false };
  const key = `${hashes.join(' ')} ${unit ?? ''}`;
  const known = cache.get(kind, version, key);
  if (known !== undefined) return known as Kept;
  try {
    const [from, to] = [await entryOf(olderFiles, before), await entryOf(newerFiles, after)];
    const { comparison } = await comparePair(from, to, unit === undefined ? {} : { unit });
    const kept = keptOf(comparison);
    cache.put(kind, version, key, kept);
    return kept;
  } catch (error) {
    if (error instanceof InputError) return null; // told with the meshes
    throw error;
  }
}

function keptOf({ verdict, alignment }: Comparison): Kept {
  return {
    verdict,
    mirrored: alignment.mirrored,
    scaled: alignment.kind !== 'none' && alignment.scale.some(factor => Math.abs(factor - 1) > 1e-4),
  };
}

function wordsOf({ verdict, mirrored, scaled }: Kept): string {
  switch (verdict) {
    case 'identical':
    case 'same-shape':
    case 'moved':
      return 'is the same';
    case 'mirrored':
      return 'is mirrored';
    case 'rescaled':
      return mirrored ? 'is mirrored and rescaled' : 'is rescaled';
    case 'reworked':
      return ['is reworked', mirrored ? ', mirrored' : '', scaled ? ', rescaled' : ''].join('');
    case 'replaced':
      return 'is another shape';
    case 'unsound':
      return 'cannot be compared';
  }
}

function refOf({ folder, refs }: Content, path: string): FileRef | undefined {
  return refs.find(ref => ref.path === `${folder}/${path}` && ref.problem === null);
}
