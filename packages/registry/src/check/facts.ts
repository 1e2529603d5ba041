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
