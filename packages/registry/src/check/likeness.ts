import type { AlignedVerdict } from '@kinprint/compare';
import type { VariantDocument } from '@kinprint/manifest';
import type { ReadOptions } from '@kinprint/mesh';
import type { Cache } from '../cache/cache.ts';
import type { SnapshotEntry } from '../snapshot/types.ts';
import { entryOf } from '../state/entries.ts';
import type { FileRef, RegistryFiles } from '../state/registry-files.ts';
import { unchanged } from '../work/own-mirror-image.ts';
import type { PairRelation } from '../work/task.ts';
import type { Relating } from '../work/relating.ts';

/** How a part stands to the part of the same id that it came from. */
export interface PartLikeness extends Kept {
  readonly part: string;
}

/** The content of one revision, as far as the comparison needs it. */
export interface Content {
  readonly files: RegistryFiles;
  readonly folder: string;
  readonly manifest: VariantDocument;
  readonly refs: readonly FileRef[];
}

interface Kept {
  readonly verdict: AlignedVerdict;
  readonly mirrored: boolean;
  readonly scaled: boolean;
  /** Whether the part is its own mirror image; null where that was not asked or cannot be told. */
  readonly symmetric: boolean | null;
}

const kind = 'likeness';
/** Rises with any change of what comparisons find. */
const version = 2;

/**
 * Compares the parts of the same id; those without a counterpart, and unreadable ones, are left out.
 *
 * @param symmetry whether to find out of unchanged parts if they are their own mirror images
 */
export async function likenessOf(
  older: Content,
  newer: Content,
  symmetry: boolean,
  relating: Relating,
  cache: Cache,
): Promise<readonly PartLikeness[]> {
  const found = await Promise.all(
    newer.manifest.parts.map(async (part): Promise<PartLikeness[]> => {
      const other = older.manifest.parts.find(p => p.id === part.id);
      const before = other === undefined ? undefined : refOf(older, other.mesh);
      const after = refOf(newer, part.mesh);
      // One reading of units holds for both sides of a comparison.
      if (other === undefined || before === undefined || after === undefined || other.unit !== part.unit)
        return [];
      const sides = [await entryOf(older.files, before), await entryOf(newer.files, after)] as const;
      const options = part.unit === undefined ? {} : { unit: part.unit };
      const key = [sides[0].digest, sides[1].digest, part.unit, symmetry ? 'symmetry' : ''].join(' ');
      const known = cache.get(kind, version, key);
      if (isKept(known)) return [{ part: part.id, ...known }];
      const kept = await look(...sides, options, symmetry, relating);
      if (kept !== null) cache.put(kind, version, key, kept);
      return kept === null ? [] : [{ part: part.id, ...kept }];
    }),
  );
  return found.flat();
}

function isKept(value: unknown): value is Kept {
  if (typeof value !== 'object' || value === null) return false;
  const { verdict, mirrored, scaled, symmetric } = value as Partial<Record<keyof Kept, unknown>>;
  return (
    typeof verdict === 'string' &&
    typeof mirrored === 'boolean' &&
    typeof scaled === 'boolean' &&
    (symmetric === null || typeof symmetric === 'boolean')
  );
}

async function look(
  before: SnapshotEntry,
  after: SnapshotEntry,
  options: ReadOptions,
  symmetry: boolean,
  relating: Relating,
): Promise<Kept | null> {
  const relation =
    before.digest === after.digest ? 'identical' : await relating.relate(before, after, options);
  if (relation === null) return null;
  const kept =
    relation === 'identical'
      ? ({ verdict: 'identical', mirrored: false, scaled: false } as const)
      : differences(relation);
  const asked = symmetry && unchanged.has(kept.verdict);
  return { ...kept, symmetric: asked ? await relating.symmetric(after, options) : null };
}

function differences({ verdict, alignment }: PairRelation): Omit<Kept, 'symmetric'> {
  return {
    verdict,
    mirrored: alignment.mirrored,
    scaled: alignment.kind !== 'none' && alignment.scale.some(factor => Math.abs(factor - 1) > 1e-4),
  };
}

function refOf({ folder, refs }: Content, path: string): FileRef | undefined {
  return refs.find(ref => ref.path === `${folder}/${path}` && ref.problem === null);
}
