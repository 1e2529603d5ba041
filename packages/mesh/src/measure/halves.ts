import type { Measurement } from '../measurement.ts';
import type { MeasureOptions } from './measure.ts';

/** What is left out when walls alone are measured. */
const wallsOnly = { selfIntersections: false, features: false, overhang: false } as const;

/**
 * Options for two measurements that `joinHalves` makes into the one that `options` ask for: everything but the walls,
 * which take about as long as the rest, and the walls. Null when they do not ask for walls and something else.
 */
export function halves(
  options: MeasureOptions,
): { readonly rest: MeasureOptions; readonly walls: MeasureOptions } | null {
  const asked = (key: 'selfIntersections' | 'features' | 'walls' | 'overhang'): boolean =>
    options[key] !== false;
  if (!asked('walls') || !(asked('selfIntersections') || asked('features') || asked('overhang'))) return null;
  return { rest: { ...options, walls: false }, walls: { ...options, ...wallsOnly } };
}

/** The one measurement: the figures of `rest` with the walls and the notes on walls of `walls`, each where it belongs. */
export function joinHalves(rest: Measurement, walls: Measurement): Measurement {
  const at = place(rest, 'walls-not-computed');
  const notes = walls.notes.slice(
    place(walls, 'features-not-computed') + 1,
    place(walls, 'overhang-not-computed'),
  );
  return {
    ...rest,
    thinnest_wall_mm: walls.thinnest_wall_mm,
    thin_places: walls.thin_places,
    notes: [...rest.notes.slice(0, at), ...notes, ...rest.notes.slice(at + 1)],
  };
}

/** Notes come in the order of the steps, so that those on walls stand between these. */
function place({ notes }: Measurement, code: string): number {
  const at = notes.findIndex(note => note.code === code);
  if (at < 0) throw new Error(`a half of a measurement lacks the note ${code}`);
  return at;
}
