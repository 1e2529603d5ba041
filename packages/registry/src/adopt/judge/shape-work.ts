import type { Comparison, FileSummary } from '@kinprint/compare';
import { InputError, transformMesh, writeStlBinary, type ReadOptions, type Unit } from '@kinprint/mesh';
import type { SnapshotEntry } from '../../snapshot/types.ts';
import { entryInput } from '../../work/entry-input.ts';
import { resultOrError } from '../../work/outcome.ts';
import { openPool } from '../../work/pool.ts';
import type { FileReport, PairOptions } from '../../work/task.ts';
import { memoryEntry } from '../../snapshot/memory-entry.ts';
import { mirrorInX, wholeMesh } from '../../work/whole-mesh.ts';

/** Reads, measures and compares files, several at a time where that pays. Each content is looked at once. */
export interface ShapeWork {
  /** Figures without walls, overhang and features; or why the file is no mesh. */
  measure(entry: SnapshotEntry): Promise<FileReport | InputError>;
  /** What pairing must know; null when the file cannot be read. */
  summarize(entry: SnapshotEntry): Promise<FileSummary | null>;
  /** null when one of them cannot be read, or their units differ. */
  compare(before: SnapshotEntry, after: SnapshotEntry): Promise<Comparison | null>;
  /** Whether a shape differs from its mirror image by less than a tolerance; null when that cannot be told. */
  symmetric(entry: SnapshotEntry, tolerance_mm: number): Promise<boolean | null>;
  close(): Promise<void>;
}

/**
 * @param files all that may be looked at, to judge whether threads pay
 * @param unitOf the unit to read a file's numbers in, whatever it says; null for its own
 */
export function openShapeWork(
  files: readonly SnapshotEntry[],
  unitOf: (entry: SnapshotEntry) => Unit | null,
): ShapeWork {
  const bytes = files.reduce((sum, file) => sum + (file.size ?? 0), 0);
  const pool = openPool({ bytes, tasks: files.length });
  const reading = (entry: SnapshotEntry): ReadOptions => {
    const unit = unitOf(entry);
    return unit === null ? {} : { unit };
  };
  const measured = new Map<string, Promise<FileReport | InputError>>();
  const summarized = new Map<string, Promise<FileSummary | null>>();

  async function measure(entry: SnapshotEntry): Promise<FileReport | InputError> {
    const outcome = await pool.run(async () => ({
      kind: 'measure',
      file: await entryInput(entry, null, pool.threads),
      options: { ...reading(entry), walls: false, overhang: false, features: false },
    }));
    return resultOrError(outcome);
  }

  async function summarize(entry: SnapshotEntry): Promise<FileSummary | null> {
    const outcome = await pool.run(async () => ({
      kind: 'summarize',
      file: await entryInput(entry, null, pool.threads),
      options: reading(entry),
    }));
    const result = resultOrError(outcome);
    return result instanceof InputError ? null : result;
  }

  async function compare(
    before: SnapshotEntry,
    after: SnapshotEntry,
    options: PairOptions,
  ): Promise<Comparison | null> {
    const outcome = await pool.run(async () => ({
      kind: 'compare',
      before: await entryInput(before, null, pool.threads),
      after: await entryInput(after, null, pool.threads),
      options,
    }));
    const result = resultOrError(outcome);
    return result instanceof InputError ? null : result.comparison;
  }

  return {
    measure: entry => once(measured, entry, measure),
    summarize: entry => once(summarized, entry, summarize),
    async compare(before, after) {
      // A comparison reads both sides in one unit.
      return unitOf(before) === unitOf(after) ? compare(before, after, reading(before)) : null;
    },
    async symmetric(entry, tolerance_mm) {
      const [own, mirrored] = await withMirrorImage(entry, unitOf(entry));
      const comparison = await compare(own, mirrored, { tolerance_mm });
      if (comparison === null) return null;
      return ['identical', 'same-shape', 'moved'].includes(comparison.verdict);
    },
    close: () => pool.close(),
  };
}

function once<T>(
  known: Map<string, Promise<T>>,
  entry: SnapshotEntry,
  work: (entry: SnapshotEntry) => Promise<T>,
): Promise<T> {
  const key = entry.digest ?? `path ${entry.path}`;
  const answer = known.get(key) ?? work(entry);
  known.set(key, answer);
  return answer;
}

/** The shape and its mirror image, both in millimeters and in the same precision. */
async function withMirrorImage(
  entry: SnapshotEntry,
  unit: Unit | null,
): Promise<[SnapshotEntry, SnapshotEntry]> {
  const mesh = wholeMesh(await entry.open(), unit === null ? {} : { unit });
  const image = transformMesh(mesh, mirrorInX);
  return [memoryEntry(entry.path, writeStlBinary(mesh)), memoryEntry(entry.path, writeStlBinary(image))];
}
