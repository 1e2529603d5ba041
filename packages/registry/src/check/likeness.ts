import type { Comparison, Verdict } from '@kinprint/compare';
import type { VariantDocument } from '@kinprint/manifest';
import { InputError, transformMesh, writeStlBinary, type Unit } from '@kinprint/mesh';
import type { Cache } from '../cache/cache.ts';
import type { SnapshotEntry } from '../snapshot/types.ts';
import { entryOf } from '../state/entries.ts';
import type { FileRef, RegistryFiles } from '../state/registry-files.ts';
import type { PairOptions } from '../work/task.ts';
import { memoryEntry } from '../snapshot/memory-entry.ts';
import { mirrorInX, wholeMesh } from '../work/whole-mesh.ts';

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
  readonly verdict: Verdict;
  readonly mirrored: boolean;
  readonly scaled: boolean;
  /** Whether the part is its own mirror image; null where that was not asked or cannot be told. */
  readonly symmetric: boolean | null;
}

/** Compares two files; null when one cannot be read. */
export type Comparer = (
  before: SnapshotEntry,
  after: SnapshotEntry,
  options: PairOptions,
) => Promise<Comparison | null>;

const kind = 'likeness';
/** Rises with any change of what comparisons find. */
const version = 1;

/**
 * Compares the parts of the same id; those without a counterpart, and unreadable ones, are left out.
 *
 * @param symmetry whether to find out of unchanged parts if they are their own mirror images
 */
export async function likenessOf(
  older: Content,
  newer: Content,
  symmetry: boolean,
  compare: Comparer,
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
      const kept = await look(...sides, options, symmetry, compare);
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

/** Verdicts that leave the shape what it was. */
export const unchanged: ReadonlySet<Verdict> = new Set(['identical', 'same-shape', 'moved']);

async function look(
  before: SnapshotEntry,
  after: SnapshotEntry,
  options: { readonly unit?: Unit },
  symmetry: boolean,
  compare: Comparer,
): Promise<Kept | null> {
  const same = { verdict: 'identical', mirrored: false, scaled: false } as const;
  const comparison = before.digest === after.digest ? null : await compare(before, after, options);
  if (comparison === null && before.digest !== after.digest) return null;
  const kept = comparison === null ? same : differences(comparison);
  if (!symmetry || !unchanged.has(kept.verdict)) return { ...kept, symmetric: null };
  const image = await mirrorImage(after, options);
  // The image is in millimeters, so the part is compared with it as an image too.
  const twice = image === null ? null : await mirrorImage(image, {});
  const verdict =
    image === null || twice === null ? null : ((await compare(twice, image, {}))?.verdict ?? null);
  return { ...kept, symmetric: verdict === null ? null : unchanged.has(verdict) };
}

function differences({ verdict, alignment }: Comparison): Omit<Kept, 'symmetric'> {
  return {
    verdict,
    mirrored: alignment.mirrored,
    scaled: alignment.kind !== 'none' && alignment.scale.some(factor => Math.abs(factor - 1) > 1e-4),
  };
}

/** A file's mesh mirrored in the plane x = 0, as binary STL in millimeters; null when it cannot be read. */
async function mirrorImage(
  entry: SnapshotEntry,
  options: { readonly unit?: Unit },
): Promise<SnapshotEntry | null> {
  try {
    const image = transformMesh(wholeMesh(await entry.open(), options), mirrorInX);
    return memoryEntry(`${entry.path} (mirror image)`, writeStlBinary(image));
  } catch (error) {
    if (error instanceof InputError) return null; // told with the meshes
    throw error;
  }
}

function refOf({ folder, refs }: Content, path: string): FileRef | undefined {
  return refs.find(ref => ref.path === `${folder}/${path}` && ref.problem === null);
}
