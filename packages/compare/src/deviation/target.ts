import { distanceSqToTriangle, type TriangleTree } from '@kinprint/mesh';
import type { Frame } from './frame.ts';
import { stride, type PolygonStack } from './polygon.ts';

/** One face of the other surface, carried into a triangle's frame, where it is compared with flat polygons (z = 0). */
export interface Target {
  /** Corners, 9 numbers. */
  readonly corners: Float64Array;
  /** The lines along the edges seen along z: unit inward normal and offset, 9 numbers. */
  readonly lines: Float64Array;
  /** Height of the face's plane above the origin of the frame, its two slopes, and 1 or −1: which way it faces. */
  readonly plane: Float64Array;
}

export function emptyTarget(): Target {
  return { corners: new Float64Array(9), lines: new Float64Array(9), plane: new Float64Array(4) };
}

/** Faces steeper than this against the triangle are not projected onto it. */
const leastCosine = 0.2;

/** Loads the face in `slot`; returns whether it can be projected along z. Otherwise only `corners` is set. */
export function loadTarget(target: Target, frame: Frame, tree: TriangleTree, slot: number): boolean {
  const { origin, axes } = frame;
  const { corners: q, lines, plane } = target;
  const { vertices, corners } = tree;
  for (let k = 0; k < 3; k++) {
    const v = 3 * corners[3 * slot + k];
    const x = vertices[v] - origin[0];
    const y = vertices[v + 1] - origin[1];
    const z = vertices[v + 2] - origin[2];
    q[3 * k] = axes[0] * x + axes[1] * y + axes[2] * z;
    q[3 * k + 1] = axes[3] * x + axes[4] * y + axes[5] * z;
    q[3 * k + 2] = axes[6] * x + axes[7] * y + axes[8] * z;
  }
  const ux = q[3] - q[0];
  const uy = q[4] - q[1];
  const uz = q[5] - q[2];
  const wx = q[6] - q[0];
  const wy = q[7] - q[1];
  const wz = q[8] - q[2];
  const nx = uy * wz - uz * wy;
  const ny = uz * wx - ux * wz;
  const nz = ux * wy - uy * wx;
  if (!(nz * nz > leastCosine * leastCosine * (nx * nx + ny * ny + nz * nz))) return false;
  plane[1] = -nx / nz;
  plane[2] = -ny / nz;
  plane[0] = q[2] - plane[1] * q[0] - plane[2] * q[1];
  const turn = nz > 0 ? 1 : -1;
  plane[3] = turn;
  for (let i = 0; i < 9; i += 3) {
    const j = i === 6 ? 0 : i + 3;
    const ex = q[j] - q[i];
    const ey = q[j + 1] - q[i + 1];
    const scale = turn / Math.sqrt(ex * ex + ey * ey);
    lines[i] = -ey * scale;
    lines[i + 1] = ex * scale;
    lines[i + 2] = lines[i] * q[i] + lines[i + 1] * q[i + 1];
  }
  return true;
}

/** Greatest distance of the corners of a polygon from the plane of a face that can be projected, along z. */
export function greatestHeight(target: Target, stack: PolygonStack, polygon: number): number {
  const { plane } = target;
  const { points } = stack;
  let most = 0;
  for (let i = polygon * stride, end = i + 2 * stack.corners[polygon]; i < end; i += 2) {
    const height = Math.abs(plane[0] + plane[1] * points[i] + plane[2] * points[i + 1]);
    if (height > most) most = height;
  }
  return most;
}

/** Distance of a point of the frame's plane from the face. */
export function distanceToTarget(target: Target, x: number, y: number): number {
  return Math.sqrt(distanceSqToTriangle(target.corners, 0, 3, 6, x, y, 0));
}

/** Greatest distance of the corners of a polygon from the face, which no point of the polygon exceeds. */
export function greatestDistance(target: Target, stack: PolygonStack, polygon: number): number {
  const { points } = stack;
  let most = 0;
  for (let i = polygon * stride, end = i + 2 * stack.corners[polygon]; i < end; i += 2) {
    most = Math.max(most, distanceToTarget(target, points[i], points[i + 1]));
  }
  return most;
}

/** How far the corners of a polygon reach beyond the edges of a face that can be projected, seen along z. */
export function overshoot(target: Target, stack: PolygonStack, polygon: number): number {
  const { lines } = target;
  const { points } = stack;
  let most = 0;
  for (let i = polygon * stride, end = i + 2 * stack.corners[polygon]; i < end; i += 2) {
    for (let k = 0; k < 9; k += 3) {
      const beyond = lines[k + 2] - lines[k] * points[i] - lines[k + 1] * points[i + 1];
      if (beyond > most) most = beyond;
    }
  }
  return most;
}

/** The edge (0, 1, 2) of a face that can be projected beyond which a point lies farthest. */
export function edgeToward(target: Target, x: number, y: number): number {
  const { lines } = target;
  let edge = 0;
  let least = Infinity;
  for (let k = 0; k < 3; k++) {
    const side = lines[3 * k] * x + lines[3 * k + 1] * y - lines[3 * k + 2];
    if (side >= least) continue;
    least = side;
    edge = k;
  }
  return edge;
}
