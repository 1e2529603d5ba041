import type { Unit } from '@kinprint/mesh';
import type { SnapshotEntry } from '../snapshot/types.ts';
import { entryInput } from '../work/entry-input.ts';
import type { WorkPool } from '../work/pool.ts';
import type { PairComparison, TaskOutcome } from '../work/task.ts';

/** A mesh file, and the unit that its manifest states. */
export interface SideMesh {
  readonly entry: SnapshotEntry;
  readonly unit: Unit | null;
}

/** Compares two meshes, each read in its own unit. @param shapes whether the result holds the solids */
export function compareSides(
  pool: WorkPool,
  before: SideMesh,
  after: SideMesh,
  shapes: boolean,
): Promise<TaskOutcome<PairComparison>> {
  return pool.run<'compare'>(async () => ({
    kind: 'compare',
    before: await entryInput(before.entry, null, pool.threads),
    after: await entryInput(after.entry, null, pool.threads),
    options: inUnit(after.unit),
    beforeOptions: inUnit(before.unit),
    shapes,
  }));
}

/** How a mesh is read; in its own unit where none is stated. */
export function inUnit(unit: Unit | null): { readonly unit?: Unit } {
  return unit === null ? {} : { unit };
}
