import { emptyRay, enterBox, meeting, meetTriangle, setRay } from './ray.ts';
import { maxDepth } from './tree.ts';
import type { TriangleTree } from './tree.ts';

/** Result of a ray query; made once by `rayHit()` and filled again by every query. */
export interface RayHit {
  /** Face of the mesh, −1 when the ray meets none. */
  face: number;
  slot: number;
  /** Ray parameter: distance in lengths of the direction. Infinity when there is no hit. */
  t: number;
  x: number;
  y: number;
  z: number;
  /** 1 when the ray meets the outside of the face (enters material), −1 the inside (leaves it), 0 without a hit. */
  side: number;
  /** Nodes and faces looked at: what the query took. */
  visits: number;
}

/** An empty hit to hand to `raycast`. */
export function rayHit(): RayHit {
  return { face: -1, slot: -1, t: Infinity, x: 0.5, y: 0.5, z: 0.5, side: 0, visits: 0 };
}

const ray = emptyRay();
const stackNode = new Int32Array(maxDepth + 2);
const stackEnter = new Float64Array(maxDepth + 2);

/**
 * Fills `out` with the first face that the ray from o along d meets at 0 ≤ t ≤ `tMax`, both sides of faces counted.
 * `skipFace` is looked through, e.g. the face the ray starts on. A ray in the plane of a face does not meet it. No
 * hit for a direction of zero length.
 */
export function raycast(
  tree: TriangleTree,
  ox: number,
  oy: number,
  oz: number,
  dx: number,
  dy: number,
  dz: number,
  out: RayHit,
  tMax = Infinity,
  skipFace = -1,
): void {
  const { boxes, links, vertices, corners, faceOf } = tree;
  out.face = out.slot = -1;
  out.t = Infinity;
  out.side = 0;
  out.visits = 0;
  if (links.length === 0 || !(dx * dx + dy * dy + dz * dz > 0)) return;
  setRay(ray, ox, oy, oz, dx, dy, dz);
  const x = ox - tree.center[0];
  const y = oy - tree.center[1];
  const z = oz - tree.center[2];
  let best = tMax;
  let bestSlot = -1;
  let side = 0;
  let top = 0;
  let node = 0;
  let visits = 0;
  search: for (;;) {
    const link = links[node];
    visits++;
    if (link >= 0) {
      const o = 6 * link;
      let near = enterBox(ray, x, y, z, boxes, o, best);
      let far = enterBox(ray, x, y, z, boxes, o + 6, best);
      node = link;
      let other = link + 1;
      if (far < near) {
        const swapped = near;
        near = far;
        far = swapped;
        node = link + 1;
        other = link;
      }
      if (far < Infinity) {
        stackNode[top] = other;
        stackEnter[top++] = far;
      }
      if (near < Infinity) continue;
    } else {
      const code = -1 - link;
      const start = code >>> 3;
      const end = start + (code & 7);
      visits += end - start;
      for (let slot = start; slot < end; slot++) {
        const met = meetTriangle(
          ray,
          vertices,
          3 * corners[3 * slot],
          3 * corners[3 * slot + 1],
          3 * corners[3 * slot + 2],
        );
        if (!met || meeting.t < 0 || meeting.t > best) continue;
        if (bestSlot >= 0 && meeting.t === best) continue;
        if (faceOf[slot] === skipFace) continue;
        best = meeting.t;
        bestSlot = slot;
        side = meeting.side;
      }
    }
    do {
      if (top === 0) break search;
      top--;
    } while (stackEnter[top] > best);
    node = stackNode[top]!;
  }
  out.visits = visits;
  if (bestSlot < 0) return;
  out.slot = bestSlot;
  out.face = faceOf[bestSlot]!;
  out.t = best;
  out.side = side;
  out.x = ox + best * dx;
  out.y = oy + best * dy;
  out.z = oz + best * dz;
}
