import type { Mesh } from '../types.ts';
import type { Cylinder } from './cylinder-fit.ts';
import type { PlanarPatches } from './planar-patches.ts';

/** From this many flats on, single wide ones are taken for flats milled on a round surface, not for its sides. */
const manyFlats = 12;
/** Widest over narrowest span that few flats may show and still be the sides of one round surface. */
const unlikeSpans = 1.35;

/**
 * Keeps the flats that are sides of a round surface. Few flats must be alike (a square with cut corners is no
 * octagonal bore): `null` when they are not. Of many, those more than three times as wide as the median and wider
 * than 20° are dropped (the flat of a D-shaped pin).
 *
 * @returns patches kept, with the angle each spans as seen from the axis, radians
 */
export function regularFlats(
  { normals, starts, faces }: PlanarPatches,
  patches: readonly number[],
  { point, radius }: Cylinder,
  { positions: p, triangles: t }: Mesh,
): { readonly patches: readonly number[]; readonly spans: readonly number[] } | null {
  const spans = patches.map(patch => {
    const at = 3 * t[3 * faces[starts[patch]]];
    let depth = 0;
    for (let k = 0; k < 3; k++) depth += normals[3 * patch + k] * (p[at + k] - point[k]);
    return 2 * Math.acos(Math.min(1, Math.abs(depth) / radius));
  });
  const sorted = spans.slice().sort((a, b) => a - b);
  const [narrowest, median, widest] = [sorted[0], sorted[sorted.length >> 1], sorted[sorted.length - 1]];
  if (patches.length < manyFlats) return widest > unlikeSpans * narrowest ? null : { patches, spans };
  const limit = Math.max(3 * median, Math.PI / 9);
  const kept = patches.map((_, i) => i).filter(i => spans[i] <= limit);
  return { patches: kept.map(i => patches[i]), spans: kept.map(i => spans[i]) };
}
