import { foot, nearestOnTriangle, point } from './point-triangle.ts';
import { maxDepth, noSlot } from './tree.ts';
import type { TriangleTree } from './tree.ts';

/** Result of a nearest-point query; made once by `closestHit()` and filled again by every query. */
export interface ClosestHit {
  /** Face of the mesh, −1 when none lies within the distance asked for. */
  face: number;
  /** Its place in the tree's order, −1 likewise. */
  slot: number;
  x: number;
  y: number;
  z: number;
  /** mm²; Infinity when there is no face. */
  distanceSq: number;
}

/** An empty hit to hand to `closestPoint`. */
export function closestHit(): ClosestHit {
  return { face: -1, slot: -1, x: 0.5, y: 0.5, z: 0.5, distanceSq: Infinity };
}

const stackNode = new Int32Array(maxDepth + 2);
const stackDistance = new Float64Array(maxDepth + 2);

/**
 * Fills `out` with the point of the surface nearest to (x, y, z).
 *
 * Only faces nearer than √`maxDistSq` are found. `hint` is the face that is tried first: a near one, such as the last
 * answer in an ordered walk, makes the query two to three times as fast. Where several faces are equally near
 * (at shared edges), any one of them is named. No face is found from a point that is not finite.
 */
export function closestPoint(
  tree: TriangleTree,
  x: number,
  y: number,
  z: number,
  out: ClosestHit,
  maxDistSq = Infinity,
  hint = -1,
): void {
  const { boxes, links, vertices, corners, slotOf } = tree;
  point[0] = x;
  point[1] = y;
  point[2] = z;
  let best = maxDistSq;
  let bestSlot = -1;
  let fx = 0;
  let fy = 0;
  let fz = 0;
  if (hint >= 0 && hint < slotOf.length) {
    const slot = slotOf[hint];
    if (slot !== noSlot) {
      nearestOnTriangle(
        vertices,
        3 * corners[3 * slot],
        3 * corners[3 * slot + 1],
        3 * corners[3 * slot + 2],
      );
      const d = foot[3];
      if (d < best) {
        best = d;
        bestSlot = slot;
        fx = foot[0]!;
        fy = foot[1]!;
        fz = foot[2]!;
      }
    }
  }
  if (links.length > 0) {
    const cx = x - tree.center[0];
    const cy = y - tree.center[1];
    const cz = z - tree.center[2];
    let top = 0;
    let node = 0;
    search: for (;;) {
      const link = links[node];
      if (link >= 0) {
        let o = 6 * link;
        let dx = Math.max(boxes[o] - cx, cx - boxes[o + 3], 0);
        let dy = Math.max(boxes[o + 1] - cy, cy - boxes[o + 4], 0);
        let dz = Math.max(boxes[o + 2] - cz, cz - boxes[o + 5], 0);
        let near = dx * dx + dy * dy + dz * dz;
        o += 6;
        dx = Math.max(boxes[o] - cx, cx - boxes[o + 3], 0);
        dy = Math.max(boxes[o + 1] - cy, cy - boxes[o + 4], 0);
        dz = Math.max(boxes[o + 2] - cz, cz - boxes[o + 5], 0);
        let far = dx * dx + dy * dy + dz * dz;
        node = link;
        let other = link + 1;
        if (far < near) {
          const swapped = near;
          near = far;
          far = swapped;
          node = link + 1;
          other = link;
        }
        if (far < best) {
          stackNode[top] = other;
          stackDistance[top++] = far;
        }
        if (near < best) continue;
      } else {
        const code = -1 - link;
        const start = code >>> 3;
        const end = start + (code & 7);
        for (let slot = start; slot < end; slot++) {
          nearestOnTriangle(
            vertices,
            3 * corners[3 * slot],
            3 * corners[3 * slot + 1],
            3 * corners[3 * slot + 2],
          );
          const d = foot[3];
          if (d < best) {
            best = d;
            bestSlot = slot;
            fx = foot[0]!;
            fy = foot[1]!;
            fz = foot[2]!;
          }
        }
      }
      do {
        if (top === 0) break search;
        top--;
      } while (stackDistance[top] >= best);
      node = stackNode[top]!;
    }
  }
  out.slot = bestSlot;
  out.face = bestSlot < 0 ? -1 : tree.faceOf[bestSlot];
  out.x = fx;
  out.y = fy;
  out.z = fz;
  out.distanceSq = bestSlot < 0 ? Infinity : best;
}
