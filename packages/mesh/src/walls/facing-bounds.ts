import { leafCount, leafStart, type TriangleTree } from '../tree/tree.ts';

/**
 * What is known of where the faces of each node of a tree, and each single face, may face: one record of `stride`
 * numbers per node, then one per slot.
 *
 * A record holds a cone of directions (unit axis x, y, z, cosine and sine of the half angle), a ball (center relative
 * to the tree's, radius) and how far back along the axis the faces reach: the least of axis · x over their points.
 */
export type FacingBounds = Float32Array;

const stride = 10;
const cosAt = 3;
const sinAt = 4;
const ballAt = 5;
const radiusAt = 8;
const backAt = 9;

/** 32 bits hold directions, and places as a share of the bounds, to about 1e-7. */
const rounding = 1e-6;

/**
 * Safe bounds, not the narrowest ones: cones and balls of a node hold those of its children.
 *
 * @param normals unit outward normals, 3 per face; 0, 0, 0 for a face without area, which no cone need hold
 * @param reach half angle of the cone of each face, radians
 */
export function facingBounds(tree: TriangleTree, normals: Float64Array, reach: Float32Array): FacingBounds {
  const { links, boxes } = tree;
  const bounds = new Float32Array(stride * (links.length + tree.size));
  faceRecords(tree, normals, reach, bounds);
  const skin = rounding * tree.diagonal;
  for (let node = links.length - 1; node >= 0; node--) {
    const link = links[node];
    const first = link >= 0 ? link : links.length + leafStart(link);
    const from = stride * first;
    const to = from + stride * (link >= 0 ? 2 : leafCount(link));
    const at = stride * node;
    cone(bounds, at, from, to);
    const box = 6 * node;
    const hx = (boxes[box + 3] - boxes[box]) / 2;
    const hy = (boxes[box + 4] - boxes[box + 1]) / 2;
    const hz = (boxes[box + 5] - boxes[box + 2]) / 2;
    const cx = boxes[box] + hx;
    const cy = boxes[box + 1] + hy;
    const cz = boxes[box + 2] + hz;
    const ax = bounds[at];
    const ay = bounds[at + 1];
    const az = bounds[at + 2];
    let radius = 0;
    let back = Infinity;
    for (let i = from; i < to; i += stride) {
      const x = bounds[i + ballAt];
      const y = bounds[i + ballAt + 1];
      const z = bounds[i + ballAt + 2];
      const r = bounds[i + radiusAt];
      radius = Math.max(radius, r + length(x - cx, y - cy, z - cz));
      const dx = ax - bounds[i];
      const dy = ay - bounds[i + 1];
      const dz = az - bounds[i + 2];
      // Two planes through the ball differ by no more than this.
      back = Math.min(back, bounds[i + backAt] + dx * x + dy * y + dz * z - r * length(dx, dy, dz));
    }
    bounds[at + ballAt] = cx;
    bounds[at + ballAt + 1] = cy;
    bounds[at + ballAt + 2] = cz;
    bounds[at + radiusAt] = Math.min(radius, length(hx, hy, hz)) + skin;
    const support = ax * cx + ay * cy + az * cz - Math.abs(ax) * hx - Math.abs(ay) * hy - Math.abs(az) * hz;
    bounds[at + backAt] = Math.max(back, support) - skin;
  }
  return bounds;
}

function faceRecords(
  tree: TriangleTree,
  normals: Float64Array,
  reach: Float32Array,
  bounds: FacingBounds,
): void {
  const { corners, vertices: v, faceOf, center } = tree;
  const skin = rounding * tree.diagonal;
  let at = stride * tree.links.length;
  for (let slot = 0; slot < tree.size; slot++, at += stride) {
    const n = 3 * faceOf[slot];
    const angle = Math.min(Math.PI, reach[faceOf[slot]] + rounding);
    bounds[at] = normals[n];
    bounds[at + 1] = normals[n + 1];
    bounds[at + 2] = normals[n + 2];
    bounds[at + cosAt] = Math.cos(angle);
    bounds[at + sinAt] = Math.sin(angle);
    const a = 3 * corners[3 * slot];
    const b = 3 * corners[3 * slot + 1];
    const c = 3 * corners[3 * slot + 2];
    let radiusSq = 0;
    // The normal of a needle need not be square to it, so each corner counts.
    let backA = 0;
    let backB = 0;
    let backC = 0;
    for (let k = 0; k < 3; k++) {
      const x = v[a + k] - center[k];
      const y = v[b + k] - center[k];
      const z = v[c + k] - center[k];
      const least = Math.min(x, y, z);
      const most = Math.max(x, y, z);
      bounds[at + ballAt + k] = (least + most) / 2;
      radiusSq += (most - least) ** 2 / 4;
      backA += normals[n + k] * x;
      backB += normals[n + k] * y;
      backC += normals[n + k] * z;
    }
    bounds[at + radiusAt] = Math.sqrt(radiusSq) + skin;
    bounds[at + backAt] = Math.min(backA, backB, backC) - skin;
  }
}

/** The cone at `at`: its axis is the mean of those from `from` to `to`, its angle reaches the farthest of them. */
function cone(bounds: FacingBounds, at: number, from: number, to: number): void {
  let x = 0;
  let y = 0;
  let z = 0;
  for (let i = from; i < to; i += stride) {
    x += bounds[i];
    y += bounds[i + 1];
    z += bounds[i + 2];
  }
  const size = length(x, y, z);
  let cosWidest = -1;
  let sinWidest = 0;
  if (size > 1e-3) {
    x /= size;
    y /= size;
    z /= size;
    cosWidest = 1;
    for (let i = from; i < to && cosWidest > -1; i += stride) {
      if (bounds[i] === 0 && bounds[i + 1] === 0 && bounds[i + 2] === 0) continue;
      const cos = Math.max(-1, Math.min(1, bounds[i] * x + bounds[i + 1] * y + bounds[i + 2] * z) - rounding);
      const sin = Math.sqrt(1 - cos * cos);
      const cosOwn = bounds[i + cosAt];
      const sinOwn = bounds[i + sinAt];
      // Cosine and sine of the sum of both angles; a negative sine says that they add up to more than π.
      const sinSum = sin * cosOwn + cos * sinOwn;
      const cosSum = sinSum < 0 ? -1 : cos * cosOwn - sin * sinOwn;
      if (cosSum < cosWidest) {
        cosWidest = cosSum;
        sinWidest = Math.max(0, sinSum);
      }
    }
    if (cosWidest <= -1) sinWidest = 0;
  } else {
    x = y = 0;
    z = 1;
  }
  bounds[at] = x;
  bounds[at + 1] = y;
  bounds[at + 2] = z;
  bounds[at + cosAt] = cosWidest;
  bounds[at + sinAt] = sinWidest;
}

/**
 * Least distance that points of two records can have where they face each other, as far as this is known; Infinity
 * when they cannot face each other: their directions are not opposed, or no line between their balls runs along a
 * direction of each.
 */
export function facingDistance(bounds: FacingBounds, i: number, j: number): number {
  const p = stride * i;
  const q = stride * j;
  const ax = bounds[p];
  const ay = bounds[p + 1];
  const az = bounds[p + 2];
  const bx = bounds[q];
  const by = bounds[q + 1];
  const bz = bounds[q + 2];
  const cosA = bounds[p + cosAt];
  const sinA = bounds[p + sinAt];
  const cosB = bounds[q + cosAt];
  const sinB = bounds[q + sinAt];
  if (sinA * cosB + cosA * sinB > 0 && ax * bx + ay * by + az * bz > sinA * sinB - cosA * cosB + rounding)
    return Infinity;
  const px = bounds[p + ballAt];
  const py = bounds[p + ballAt + 1];
  const pz = bounds[p + ballAt + 2];
  const qx = bounds[q + ballAt];
  const qy = bounds[q + ballAt + 1];
  const qz = bounds[q + ballAt + 2];
  const x = qx - px;
  const y = qy - py;
  const z = qz - pz;
  const apartSq = x * x + y * y + z * z;
  const radiusA = bounds[p + radiusAt];
  const radiusB = bounds[q + radiusAt];
  const radii = radiusA + radiusB;
  // How deep behind each the other lies; the line must come from within its cone, or from as near as the balls allow.
  const deepA = -(ax * x + ay * y + az * z);
  const deepB = bx * x + by * y + bz * z;
  if (offCone(deepA, apartSq, cosA, sinA, radii) || offCone(deepB, apartSq, cosB, sinB, radii))
    return Infinity;
  // Along either axis the two lie at least this far apart: the back of one, and the other's own back turned into it.
  const ex = ax + bx;
  const ey = ay + by;
  const ez = az + bz;
  const turn = length(ex, ey, ez);
  const backs = bounds[p + backAt] + bounds[q + backAt];
  return Math.max(
    backs - (ex * qx + ey * qy + ez * qz) - turn * radiusB,
    backs - (ex * px + ey * py + ez * pz) - turn * radiusA,
    0,
  );
}

/** Writes the ball of a record: center relative to the tree's, radius. */
export function ballOf(bounds: FacingBounds, i: number, into: Float64Array): void {
  for (let k = 0; k < 4; k++) into[k] = bounds[stride * i + ballAt + k];
}

/** Whether no line shorter than the bound leads from the ball of a record, along one of its directions, to a ball. */
export function ballOffCone(
  bounds: FacingBounds,
  i: number,
  x: number,
  y: number,
  z: number,
  radius: number,
  bound: number,
): boolean {
  const at = stride * i;
  const dx = x - bounds[at + ballAt];
  const dy = y - bounds[at + ballAt + 1];
  const dz = z - bounds[at + ballAt + 2];
  const radii = radius + bounds[at + radiusAt];
  const apartSq = dx * dx + dy * dy + dz * dz;
  if (apartSq >= (bound + radii) ** 2) return true;
  const depth = -(bounds[at] * dx + bounds[at + 1] * dy + bounds[at + 2] * dz);
  return offCone(depth, apartSq, bounds[at + cosAt], bounds[at + sinAt], radii);
}

/** Whether a direction of a record may be opposite to one within an angle of the unit vector (x, y, z). */
export function opposed(
  bounds: FacingBounds,
  i: number,
  x: number,
  y: number,
  z: number,
  angle: number,
): boolean {
  const at = stride * i;
  const cosA = bounds[at + cosAt];
  const sinA = bounds[at + sinAt];
  const cosB = Math.cos(angle);
  const sinB = Math.sin(angle);
  if (sinA * cosB + cosA * sinB <= 0) return true;
  return bounds[at] * x + bounds[at + 1] * y + bounds[at + 2] * z <= sinA * sinB - cosA * cosB + rounding;
}

/** Radius of the ball of a record. */
export function radiusOf(bounds: FacingBounds, i: number): number {
  return bounds[stride * i + radiusAt];
}

/** Whether a point at some depth along the axis of a cone, and some distance from its tip, is farther off than `by`. */
function offCone(depth: number, distanceSq: number, cos: number, sin: number, by: number): boolean {
  if (cos > 0 && depth < -by) return true;
  const off = by + depth * sin;
  const aside = distanceSq - depth * depth;
  if (cos >= 0) return off < 0 || aside * cos * cos > off * off;
  return off < 0 && aside * cos * cos < off * off;
}

function length(x: number, y: number, z: number): number {
  return Math.sqrt(x * x + y * y + z * z);
}
