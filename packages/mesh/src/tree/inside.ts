import { solidAngle } from './solid-angle.ts';
import { emptyRay, enterBox, meeting, meetTriangle, setRay } from './ray.ts';
import { maxDepth } from './tree.ts';
import type { TriangleTree } from './tree.ts';

const ray = emptyRay();
const stack = new Int32Array(maxDepth + 2);
const attempts = 12;

/**
 * How often the surface winds around a point: 1 inside a simple solid, 0 outside, 2 where two shells overlap,
 * negative inside a shell that is inside out.
 *
 * Counts the crossings of a ray with their directions; when one passes an edge or corner too closely for the
 * rounding, another direction is taken, and after a dozen the solid angles of all faces are summed (Van Oosterom and
 * Strackee 1983, IEEE Trans. Biomed. Eng. 30:125–126). Meaningful for closed, oriented surfaces only; on the surface
 * itself either neighbor's number.
 */
export function windingNumber(tree: TriangleTree, x: number, y: number, z: number): number {
  if (tree.size === 0) return 0;
  for (let attempt = 0; attempt < attempts; attempt++) {
    // Directions spread by the golden angle: never along an axis, where parts have their edges.
    const height = ((attempt * 0.618034 + 0.2137) % 1) * 1.6 - 0.8;
    const angle = attempt * 2.399963 + 0.7391;
    const radius = Math.sqrt(1 - height * height);
    const winding = crossings(tree, x, y, z, radius * Math.cos(angle), radius * Math.sin(angle), height);
    if (winding !== null) return winding;
  }
  return Math.round(solidAngles(tree, x, y, z) / (4 * Math.PI));
}

/** Whether the closed, oriented surface winds around the point in the positive sense: the point is in material. */
export function isInside(tree: TriangleTree, x: number, y: number, z: number): boolean {
  return windingNumber(tree, x, y, z) > 0;
}

/** Crossings from inside to outside minus those from outside to inside; null when rounding would decide. */
function crossings(
  tree: TriangleTree,
  ox: number,
  oy: number,
  oz: number,
  dx: number,
  dy: number,
  dz: number,
): number | null {
  const { boxes, links, vertices, corners } = tree;
  setRay(ray, ox, oy, oz, dx, dy, dz);
  const x = ox - tree.center[0];
  const y = oy - tree.center[1];
  const z = oz - tree.center[2];
  let winding = 0;
  let top = 0;
  stack[top++] = 0;
  while (top > 0) {
    const link = links[stack[--top]];
    if (link >= 0) {
      if (enterBox(ray, x, y, z, boxes, 6 * link, Infinity) < Infinity) stack[top++] = link;
      if (enterBox(ray, x, y, z, boxes, 6 * link + 6, Infinity) < Infinity) stack[top++] = link + 1;
      continue;
    }
    const code = -1 - link;
    const start = code >>> 3;
    const end = start + (code & 7);
    for (let slot = start; slot < end; slot++) {
      const met = meetTriangle(
        ray,
        vertices,
        3 * corners[3 * slot],
        3 * corners[3 * slot + 1],
        3 * corners[3 * slot + 2],
      );
      if (meeting.doubtful) return null;
      if (met && meeting.t >= 0) winding -= meeting.side;
    }
  }
  return winding;
}

/** Sum of the signed solid angles under which the faces are seen; faces seen from behind count positive. */
function solidAngles(tree: TriangleTree, x: number, y: number, z: number): number {
  const { vertices, corners } = tree;
  let sum = 0;
  for (let i = 0; i < corners.length; i += 3) {
    sum += solidAngle(vertices, 3 * corners[i], 3 * corners[i + 1], 3 * corners[i + 2], x, y, z);
  }
  return sum;
}
