import { meshDefaults, type Unit } from '@kinprint/mesh';
import type { FileReport } from '../../work/task.ts';

/** In which unit the files without one of their own are. */
export interface UnitJudgment {
  /** null: millimeters, as assumed. */
  readonly unit: Unit | null;
  /** Why a person must look at it; null when nothing speaks against it. */
  readonly unsettled: string | null;
  /** Indices of files so small that they may be in another unit, although the others are not. */
  readonly small: readonly number[];
}

/**
 * Judges the unit of a set of files by the largest of them: parts of one device are drawn in one unit, and a small
 * part beside larger ones is a small part.
 *
 * @param reports of the files, read as they say; null for one that could not be read
 * @param asked what the person said; then nothing is unsettled
 */
export function judgeUnit(reports: readonly (FileReport | null)[], asked: Unit | null): UnitJudgment {
  if (asked !== null) return { unit: asked === 'millimeter' ? null : asked, unsettled: null, small: [] };
  const open = reports.flatMap((report, i) => (report?.whole.unit_assumed === true ? [{ report, i }] : []));
  const suspect = open.filter(({ report }) => report.whole.notes.some(note => note.code === 'unit-suspect'));
  const extents = open.map(({ report }) => Math.max(...(report.whole.bounds_mm?.size ?? [0])));
  const largest = Math.max(0, ...extents);
  if (suspect.length === 0 || largest >= meshDefaults.unitSuspect.inchesBelow_mm)
    return { unit: null, unsettled: null, small: suspect.map(({ i }) => i) };
  const unit: Unit = largest < meshDefaults.unitSuspect.metersBelow_mm ? 'meter' : 'inch';
  return {
    unit,
    unsettled: `Judged by size: the largest extent of all these files is ${largest.toPrecision(3)}, which would be tiny in millimeters.`,
    small: [],
  };
}
