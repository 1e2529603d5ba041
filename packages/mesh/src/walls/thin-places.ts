import type { ThinPlace } from '../measurement.ts';

/** The thinnest places found so far, apart from each other. */
export interface ThinPlaces {
  /** Thinnest so far, mm; Infinity when there is none. */
  readonly thinnest: () => number;
  /** Only places thinner than this change the list, mm. */
  readonly bound: () => number;
  /** Whether a place would change the list. */
  wanted(thickness: number, x: number, y: number, z: number): boolean;
  add(place: ThinPlace): void;
  /** Ascending. */
  list(): readonly ThinPlace[];
}

/** Places thicker than this many times the thinnest are not told. */
const thickest = 1.5;

/**
 * @param most how many places are kept
 * @param apart how far their middles are from each other at least, mm
 */
export function thinPlaces(most: number, apart: number): ThinPlaces {
  let places: ThinPlace[] = [];
  const near = (place: ThinPlace, x: number, y: number, z: number): boolean => {
    const { from_mm: a, to_mm: b } = place;
    return Math.hypot((a[0] + b[0]) / 2 - x, (a[1] + b[1]) / 2 - y, (a[2] + b[2]) / 2 - z) < apart;
  };
  const bound = (): number => {
    if (places.length === 0) return Infinity;
    const widest = thickest * places[0].thickness_mm;
    return places.length === most ? Math.min(widest, places[most - 1].thickness_mm) : widest;
  };
  return {
    thinnest: () => places[0]?.thickness_mm ?? Infinity,
    bound,
    wanted(thickness, x, y, z) {
      return thickness < bound() && !places.some(p => p.thickness_mm <= thickness && near(p, x, y, z));
    },
    add(place) {
      const { from_mm: a, to_mm: b, thickness_mm } = place;
      const [x, y, z] = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2];
      places = [...places.filter(p => !near(p, x, y, z)), place].sort(
        (p, q) => p.thickness_mm - q.thickness_mm,
      );
      const limit = Math.min(thickness_mm, places[0].thickness_mm) * thickest;
      places = places.filter(p => p.thickness_mm <= limit).slice(0, most);
    },
    list: () => places,
  };
}
