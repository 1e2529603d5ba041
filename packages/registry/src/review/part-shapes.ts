import { availableParallelism } from 'node:os';
import type { Comparison } from '@kinprint/compare';
import type { Mesh } from '@kinprint/mesh';
import { registryDefaults } from '../defaults.ts';
import { inputOrNull } from '../input-or-null.ts';
import { entryOf } from '../state/entries.ts';
import { resultOrNull } from '../work/outcome.ts';
import { openPool, type WorkPool } from '../work/pool.ts';
import type { PairComparison } from '../work/task.ts';
import { wholeMesh } from '../work/whole-mesh.ts';
import { compareSides, inUnit, type SideMesh } from './compare-sides.ts';
import type { HeldShapes } from './held-shapes.ts';
import type { PairedPart, SidePart } from './pair-parts.ts';

/** The meshes of a reviewed part. */
export type PartShapes =
  | {
      readonly kind: 'change';
      readonly comparison: Comparison;
      readonly meshes: NonNullable<PairComparison['shapes']>;
    }
  /** Only one side has it, or it is the same on both. */
  | { readonly kind: 'alone'; readonly mesh: Mesh }
  /** They could not be made, by a fault of ours. */
  | { readonly kind: 'fault'; readonly text: string };

/** What is made of each part's meshes, and who takes it. */
export interface PartWork<T, R> {
  /** Gets null for a part that has no mesh to show; several parts at a time. */
  readonly make: (part: T, shapes: PartShapes | null) => Promise<R>;
  /** Gets what was made, in the order of the parts. */
  readonly take: (part: T, made: R) => Promise<void>;
}

/**
 * Goes through the meshes of parts: as they were held since they were compared, else compared in threads. Only a few are
 * in memory at a time.
 */
export async function eachPartShapes<T, R>(
  parts: readonly (readonly [T, PairedPart])[],
  held: HeldShapes | null,
  { make, take }: PartWork<T, R>,
): Promise<void> {
  const pool = openPool({ bytes: null, tasks: parts.length });
  const most = 2 * availableParallelism();
  const ahead: { readonly made: Promise<R>; readonly bytes: number }[] = [];
  let working_bytes = 0;
  let next = 0;
  const startMore = (): void => {
    while (next < parts.length && ahead.length < most) {
      const [part, pair] = parts[next];
      const bytes = fileBytes(pair.before) + fileBytes(pair.after);
      if (ahead.length > 0 && working_bytes + bytes > registryDefaults.drawnAtOnceBytes) return;
      const made = shapesOf(pair, held, pool).then(shapes => make(part, shapes));
      made.catch(() => undefined); // awaited in its turn
      ahead.push({ made, bytes });
      working_bytes += bytes;
      next++;
    }
  };
  try {
    for (const [part] of parts) {
      startMore();
      const first = ahead[0];
      const made = await first.made;
      ahead.shift();
      working_bytes -= first.bytes;
      startMore();
      await take(part, made);
    }
  } finally {
    await pool.close();
  }
}

function fileBytes(side: SidePart | null): number {
  return side?.ref?.size ?? 0;
}

async function shapesOf(
  { before, after, comparison }: PairedPart,
  held: HeldShapes | null,
  pool: WorkPool,
): Promise<PartShapes | null> {
  if (comparison !== null && before !== null && after !== null) {
    const kept = (await held?.take(comparison)) ?? null;
    if (kept !== null) return { kind: 'change', comparison, meshes: kept };
    const [from, to] = [await meshOf(before), await meshOf(after)];
    if (from === null || to === null) return null;
    const outcome = await compareSides(pool, from, to, true);
    if (outcome.state === 'fault') return { kind: 'fault', text: outcome.text };
    const result = resultOrNull(outcome);
    if (result === null || result.shapes === null) return null;
    return { kind: 'change', comparison: result.comparison, meshes: result.shapes };
  }
  const side = after === null ? await meshOf(before) : await meshOf(after);
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
