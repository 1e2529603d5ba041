import type { Vec3 } from '@kinprint/mesh';
import { BufferAttribute, BufferGeometry } from 'three';
import { pictureDefaults } from '../pictures/defaults.ts';
import { cornerNormal, type Surface } from '../pictures/surface.ts';
import type { Soup } from './refine.ts';

/**
 * The faces of a surface one by one, with the normals of their corners, about `center` so that 32 bits suffice.
 *
 * @param leaveOut 1 for faces that are not wanted
 */
export function soupOf(surface: Surface, center: Vec3, leaveOut: Uint8Array | null = null): Soup {
  const { positions: p, triangles: t } = surface.mesh;
  const all = t.length / 3;
  const count = leaveOut === null ? all : leaveOut.reduce((n, out) => n - out, all);
  const soup = { positions: new Float32Array(9 * count), normals: new Float32Array(9 * count) };
  const normal = new Float64Array(3);
  for (let f = 0, at = 0; f < all; f++) {
    if (leaveOut?.[f] === 1) continue;
    for (let c = 0; c < 3; c++, at += 3) {
      // Corners in the order in which an outer side has them.
      const corner = surface.outward < 0 && c > 0 ? 3 - c : c;
      const v = 3 * t[3 * f + corner];
      cornerNormal(surface, f, corner, normal, 0);
      for (let axis = 0; axis < 3; axis++) {
        soup.positions[at + axis] = p[v + axis] - center[axis];
        soup.normals[at + axis] = normal[axis];
      }
    }
  }
  return soup;
}

export function surfaceGeometry({ positions, normals }: Soup, deviation?: Float32Array): BufferGeometry {
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(positions, 3));
  geometry.setAttribute('normal', new BufferAttribute(normals, 3));
  if (deviation !== undefined) geometry.setAttribute('deviation', new BufferAttribute(deviation, 1));
  return geometry;
}

/** Ends of the edges where faces meet sharply or end, six coordinates each, about `center`. */
export function sharpEdges({ mesh, normals: n, twins }: Surface, center: Vec3): Float32Array {
  const { positions: p, triangles: t } = mesh;
  const ends: number[] = [];
  for (let h = 0; h < t.length; h++) {
    const twin = twins[h];
    if (twin > h) continue;
    const f = 3 * Math.floor(h / 3);
    if (twin >= 0) {
      const g = 3 * Math.floor(twin / 3);
      const cosine = n[f] * n[g] + n[f + 1] * n[g + 1] + n[f + 2] * n[g + 2];
      if (cosine >= pictureDefaults.creaseCosine) continue;
    }
    for (const v of [t[h], t[f + ((h + 1) % 3)]])
      for (let axis = 0; axis < 3; axis++) ends.push(p[3 * v + axis] - center[axis]);
  }
  return Float32Array.from(ends);
}

export function lineGeometry(ends: Float32Array): BufferGeometry {
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(ends, 3));
  const along = new Float32Array(ends.length / 3);
  for (let k = 0; k < ends.length; k += 6)
    along[k / 3 + 1] = Math.hypot(
      ends[k + 3] - ends[k],
      ends[k + 4] - ends[k + 1],
      ends[k + 5] - ends[k + 2],
    );
  geometry.setAttribute('along', new BufferAttribute(along, 1));
  return geometry;
}
