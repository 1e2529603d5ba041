import type { Comparison } from '@kinprint/compare';
import type { Mesh } from '@kinprint/mesh';
import { inputOrNull } from '../input-or-null.ts';
import { entryOf } from '../state/entries.ts';
import { resultOrNull } from '../work/outcome.ts';
import { openPool, type WorkPool } from '../work/pool.ts';
import type { PairComparison } from '../work/task.ts';
import { wholeMesh } from '../work/whole-mesh.ts';
import { compareSides, inUnit, type SideMesh } from './compare-sides.ts';
import type { PairedPart, SidePart } from './pair-parts.ts';

/** The meshes of a reviewed part. */
export type PartShapes =
  | {
      readonly kind: 'change';
      readonly comparison: Comparison;
      readonly meshes: NonNullable<PairComparison['shapes']>;
    }
  /** Only one side has it, or it is the same on both. */
  | { readonly kind: 'alone'; readonly mesh: Mesh };

/**
 * The meshes of parts, for pictures: compared anew in threads, and handed over in order, so that only a few are in memory at
 * a time.
 *
 * @param visit told null for a part that has no mesh to show
 */
export async function eachPartShapes<T>(
  parts: readonly (readonly [T, PairedPart])[],
  visit: (part: T, shapes: PartShapes | null) => Promise<void>,
): Promise<void> {
  const pool = openPool({ bytes: null, tasks: parts.length });
  const ahead: Promise<PartShapes | null>[] = [];
  const start = (k: number): void => {
    if (k < parts.length) {
      const shapes = shapesOf(parts[k][1], pool);
      shapes.catch(() => undefined); // awaited in its turn
      ahead[k] = shapes;
    }
  };
  try {
    for (let k = 0; k < inWork; k++) start(k);
    for (const [k, [part]] of parts.entries()) {
      const shapes = await ahead[k];
      ahead[k] = Promise.resolve(null); // to be freed
      start(k + inWork);
      await visit(part, shapes);
    }
  } finally {
    await pool.close();
  }
}

/** Comparisons that are begun or waiting to be drawn. */
const inWork = 4;

async function shapesOf(
  { before, after, comparison }: PairedPart,
  pool: WorkPool,
): Promise<PartShapes | null> {
  const [from, to] = [await meshOf(before), await meshOf(after)];
  if (comparison !== null && before !== null && after !== null) {
    if (from === null || to === null) return null;
    const result = resultOrNull(await compareSides(pool, from, to, true));
    if (result === null || result.shapes === null) return null;
    return { kind: 'change', comparison: result.comparison, meshes: result.shapes };
  }
  const side = after === null ? from : to;
  if (side === null) return null;
  // What cannot be read is told with the part.
  const mesh = await inputOrNull(async () => wholeMesh(await side.entry.open(), inUnit(side.unit)));
  return mesh === null ? null : { kind: 'alone', mesh };
}

async function meshOf(side: SidePart | null): Promise<SideMesh | null> {
  return side?.ref?.problem === null
    ? { entry: await entryOf(side.content.files, side.ref), unit: side.unit }
    : null;
}
