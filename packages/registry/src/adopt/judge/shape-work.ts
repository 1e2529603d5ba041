import type { FileSummary } from '@kinprint/compare';
import type { InputError, ReadOptions, Unit } from '@kinprint/mesh';
import type { SnapshotEntry } from '../../snapshot/types.ts';
import { entryInput } from '../../work/entry-input.ts';
import { resultOrError, resultOrNull } from '../../work/outcome.ts';
import type { WorkPool } from '../../work/pool.ts';
import { relatingWith } from '../../work/relating.ts';
import type { FileReport, PairRelation } from '../../work/task.ts';

/** How a file's numbers are read: in a unit, whatever it says, or in its own. */
export type UnitOf = (entry: SnapshotEntry) => Unit | null;

/** Reads, measures and relates files, several at a time where that pays. Each content is looked at once in each unit. */
export interface ShapeWork {
  /** Figures without walls, overhang, features and self-intersections; or why the file is no mesh. */
  measure(entry: SnapshotEntry, unit: Unit | null): Promise<FileReport | InputError>;
  /** What pairing must know; null when the file cannot be read. */
  summarize(entry: SnapshotEntry, unit: Unit | null): Promise<FileSummary | null>;
  /** How two shapes stand to one another; null when one of them cannot be read, or their units differ. */
  relate(before: SnapshotEntry, after: SnapshotEntry, unitOf: UnitOf): Promise<PairRelation | null>;
  /** Whether a shape differs from its mirror image by less than a tolerance; null when that cannot be told. */
  symmetric(entry: SnapshotEntry, unit: Unit | null, tolerance_mm: number): Promise<boolean | null>;
}

/** @param pool left open */
export function shapeWork(pool: WorkPool): ShapeWork {
  const measured = new Map<string, Promise<FileReport | InputError>>();
  const summarized = new Map<string, Promise<FileSummary | null>>();
  const relating = relatingWith(pool);
  const input = (entry: SnapshotEntry) => entryInput(entry, null, pool.threads);

  async function measure(entry: SnapshotEntry, reading: ReadOptions): Promise<FileReport | InputError> {
    const outcome = await pool.run(async () => ({
      kind: 'measure',
      file: await input(entry),
      options: { ...reading, walls: false, overhang: false, features: false, selfIntersections: false },
    }));
    return resultOrError(outcome);
  }

  async function summarize(entry: SnapshotEntry, reading: ReadOptions): Promise<FileSummary | null> {
    const outcome = await pool.run(async () => ({
      kind: 'summarize',
      file: await input(entry),
      options: reading,
    }));
    return resultOrNull(outcome);
  }

  return {
    measure: (entry, unit) => once(measured, entry, unit, () => measure(entry, readingIn(unit))),
    summarize: (entry, unit) => once(summarized, entry, unit, () => summarize(entry, readingIn(unit))),
    async relate(before, after, unitOf) {
      const unit = unitOf(before);
      // A comparison reads both sides in one unit.
      return unit === unitOf(after) ? relating.relate(before, after, readingIn(unit)) : null;
    },
    symmetric: (entry, unit, tolerance_mm) => relating.symmetric(entry, { ...readingIn(unit), tolerance_mm }),
  };
}

function readingIn(unit: Unit | null): ReadOptions {
  return unit === null ? {} : { unit };
}

function once<T>(
  known: Map<string, Promise<T>>,
  entry: SnapshotEntry,
  unit: Unit | null,
  work: () => Promise<T>,
): Promise<T> {
  const key = `${unit ?? 'own'} ${entry.digest ?? `path ${entry.path}`}`;
  const answer = known.get(key) ?? work();
  known.set(key, answer);
  return answer;
}
