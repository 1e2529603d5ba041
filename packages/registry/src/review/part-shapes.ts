import type { Comparison } from '@kinprint/compare';
import { InputError, type Mesh } from '@kinprint/mesh';
import { entryOf } from '../state/entries.ts';
import { entryInput } from '../work/entry-input.ts';
import { resultOrNull } from '../work/outcome.ts';
import { openPool, type WorkPool } from '../work/pool.ts';
import type { PairComparison } from '../work/task.ts';
import { wholeMesh } from '../work/whole-mesh.ts';
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
  if (before !== null && after !== null && comparison !== null) {
    const [from, to] = [await entryFor(before), await entryFor(after)];
    if (from === null || to === null) return null;
    const outcome = await pool.run<'compare'>(async () => ({
      kind: 'compare',
      before: await entryInput(from, null, pool.threads),
      after: await entryInput(to, null, pool.threads),
      options: readOptions(after),
      beforeOptions: readOptions(before),
      shapes: true,
    }));
    const result = resultOrNull(outcome);
    if (result === null || result.shapes === null) return null;
    return { kind: 'change', comparison: result.comparison, meshes: result.shapes };
  }
  const side = after ?? before;
  const entry = side === null ? null : await entryFor(side);
  if (side === null || entry === null) return null;
  try {
    return { kind: 'alone', mesh: wholeMesh(await entry.open(), readOptions(side)) };
  } catch (error) {
    if (error instanceof InputError) return null; // told with the part
    throw error;
  }
}

async function entryFor({ content, ref }: SidePart) {
  return ref?.problem === null ? entryOf(content.files, ref) : null;
}

function readOptions({ unit }: SidePart) {
  return unit === null ? {} : { unit };
}
