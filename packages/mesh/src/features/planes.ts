import type { Plane } from '../measurement.ts';
import type { Mesh, Vec3 } from '../types.ts';
import type { FaceNormals } from '../face-normals.ts';
import type { PlanarPatches } from './planar-patches.ts';

/**
 * The largest planar patches as features, by falling area.
 *
 * @param taken 1 where a face belongs to a round feature; its patch is no plane
 * @param leastArea mm²
 * @param most how many at the utmost
 */
export function planesOf(
  mesh: Mesh,
  { areas }: FaceNormals,
  patches: PlanarPatches,
  taken: Uint8Array,
  leastArea: number,
  most: number,
): Plane[] {
  const { positions: p, triangles: t } = mesh;
  const worth: number[] = [];
  for (let i = 0; i < patches.count; i++) {
    if (patches.areas[i] >= leastArea && taken[patches.faces[patches.starts[i]]] === 0) worth.push(i);
  }
  worth.sort((a, b) => patches.areas[b] - patches.areas[a] || a - b);
  const planes = worth.slice(0, most).map((patch): Plane => {
    let area = 0;
    const sum = [0, 0, 0];
    for (let i = patches.starts[patch]; i < patches.starts[patch + 1]; i++) {
      const f = patches.faces[i];
      area += areas[f];
      for (let c = 0; c < 9; c++)
        sum[c % 3] += (areas[f] / 3) * p[3 * t[3 * f + Math.floor(c / 3)] + (c % 3)];
    }
    const n = patches.normals;
    const axis: Vec3 = [clean(n[3 * patch]), clean(n[3 * patch + 1]), clean(n[3 * patch + 2])];
    return {
      kind: 'plane',
      diameter_mm: null,
      inscribed_diameter_mm: null,
      axis,
      at_mm: [sum[0] / area + 0, sum[1] / area + 0, sum[2] / area + 0],
      length_mm: null,
      through: null,
      area_mm2: area,
    };
  });
  return planes.sort((a, b) => byAreaThenPlace(a, b, leastArea));
}

/** Equal areas by direction and place, in steps coarser than rounding, so that the order of faces does not matter. */
function byAreaThenPlace(a: Plane, b: Plane, leastArea: number): number {
  const area = (plane: Plane) => Math.round((plane.area_mm2 / (leastArea || 1)) * 1e4);
  const step = (value: number) => Math.round(value * 1e3);
  let order = area(b) - area(a);
  for (let k = 0; k < 3 && order === 0; k++) order = step(a.axis[k]) - step(b.axis[k]);
  for (let k = 0; k < 3 && order === 0; k++) order = step(a.at_mm[k]) - step(b.at_mm[k]);
  return order;
}

/** No −0, and no trace of rounding where a component is 0. */
function clean(component: number): number {
  return Math.abs(component) < 1e-12 ? 0 : component;
}
