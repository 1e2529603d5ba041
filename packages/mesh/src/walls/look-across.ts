import { raycast, rayHit } from '../tree/raycast.ts';
import type { Surface } from './facing.ts';
import type { WallSearch } from './wall-search.ts';

/** Faces looked across from at most: enough for a first bound; common practice, no source. */
const looks = 4000;
/** Nodes and faces that all looks together visit at most, per look; a sound part takes about 100; no source. */
const visitsPerLook = 2000;
const cosBlend = Math.cos(Math.PI / 6);

/**
 * Looks from the middles of faces straight through the material. Gives the search its first bound, and the thickness
 * of bodies whose sides both bulge outward, where no pair of triangles is nearest where it faces.
 *
 * @returns false when the work allowed ran out: faces remain that were not looked from
 */
export function lookAcross(search: WallSearch): boolean {
  const { surface, tree, places, angles } = search;
  const { positions: p, triangles: t, normals } = surface;
  const hit = rayHit();
  const step = Math.max(1, Math.floor(tree.size / looks));
  let left = looks * visitsPerLook;
  for (let slot = 0; slot < tree.size; slot += step) {
    if (left < 0) return false;
    const f = tree.faceOf[slot];
    const x = -normals[3 * f];
    const y = -normals[3 * f + 1];
    const z = -normals[3 * f + 2];
    if (x === 0 && y === 0 && z === 0) continue;
    const a: [number, number, number] = [0, 0, 0];
    for (let k = 0; k < 9; k++) a[k % 3] += p[3 * t[3 * f + Math.floor(k / 3)] + (k % 3)] / 3;
    raycast(tree, a[0], a[1], a[2], x, y, z, hit, places.bound(), f);
    left -= hit.visits;
    if (hit.face < 0 || hit.side !== -1 || !(hit.t > 0)) continue;
    const g = hit.face;
    const facing = normals[3 * g] * x + normals[3 * g + 1] * y + normals[3 * g + 2] * z;
    if (facing < Math.cos(Math.acos(angles.cosFacing) + facetAngle(surface, g))) continue;
    const b: [number, number, number] = [hit.x, hit.y, hit.z];
    if (!places.wanted(hit.t, (a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2)) continue;
    places.add({ thickness_mm: hit.t, from_mm: a, to_mm: b });
  }
  return true;
}

/** Largest bend to a neighbor that still belongs to the same round surface, radians: how coarse its facets are. */
function facetAngle({ neighbors, normals }: Surface, f: number): number {
  let least = 1;
  for (let k = 0; k < 3; k++) {
    const g = neighbors[3 * f + k];
    if (g < 0) continue;
    const cos =
      normals[3 * f] * normals[3 * g] +
      normals[3 * f + 1] * normals[3 * g + 1] +
      normals[3 * f + 2] * normals[3 * g + 2];
    if (cos > cosBlend && cos < least) least = cos;
  }
  return Math.acos(Math.min(1, least));
}
