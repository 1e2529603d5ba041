import { isRecord } from '../cache/is-record.ts';
import type { Measurement } from '@kinprint/mesh';
import type { EntryProblem } from '../snapshot/types.ts';
import type { InputErrorData } from '../work/task.ts';

/** What the checks want to know of a mesh; plain data that a cache can keep. */
export type PartFacts = Pick<
  Measurement,
  | 'unit'
  | 'unit_assumed'
  | 'triangles'
  | 'area_mm2'
  | 'volume_mm3'
  | 'bounds_mm'
  | 'shells'
  | 'soundness'
  | 'features'
  | 'thinnest_wall_mm'
  | 'thin_places'
  | 'notes'
>;

/** What looking at a part's mesh came to. */
export type PartLook =
  | { readonly state: 'measured'; readonly facts: PartFacts }
  | { readonly state: 'unreadable'; readonly error: InputErrorData }
  /** There is a file, but no content to read. */
  | { readonly state: 'absent'; readonly problem: EntryProblem }
  /** A fault of the program. */
  | { readonly state: 'failed'; readonly text: string };

/** The facts of a measurement, without what only pictures need. */
export function factsOf(m: Measurement): PartFacts {
  return {
    unit: m.unit,
    unit_assumed: m.unit_assumed,
    triangles: m.triangles,
    area_mm2: m.area_mm2,
    volume_mm3: m.volume_mm3,
    bounds_mm: m.bounds_mm,
    shells: m.shells,
    soundness: m.soundness,
    features: m.features,
    thinnest_wall_mm: m.thinnest_wall_mm,
    thin_places: m.thin_places.slice(0, 1),
    notes: m.notes,
  };
}

/** Whether what a cache holds looks like a look that is kept; of what the facts hold, only the outer form. */
export function isKeptLook(value: unknown): value is PartLook {
  if (!isRecord(value)) return false;
  const { error } = value;
  if (value['state'] === 'unreadable')
    return isRecord(error) && ['code', 'message', 'remedy'].every(k => typeof error[k] === 'string');
  if (value['state'] !== 'measured' || !isRecord(value['facts'])) return false;
  const facts = value['facts'] as Readonly<Record<keyof PartFacts, unknown>>;
  const { bounds_mm } = facts;
  const lists = [facts.features, facts.thin_places, facts.notes];
  return (
    typeof facts.unit === 'string' &&
    typeof facts.unit_assumed === 'boolean' &&
    [facts.triangles, facts.area_mm2, facts.shells].every(Number.isFinite) &&
    [facts.volume_mm3, facts.thinnest_wall_mm].every(it => it === null || Number.isFinite(it)) &&
    (bounds_mm === null ||
      (isRecord(bounds_mm) && ['min', 'max', 'size'].every(k => isVector(bounds_mm[k])))) &&
    isRecord(facts.soundness) &&
    lists.every(list => Array.isArray(list) && list.every(isRecord))
  );
}

function isVector(value: unknown): boolean {
  return Array.isArray(value) && value.length === 3 && value.every(Number.isFinite);
}
