import { leafCount, leafStart } from '../tree/tree.ts';
import { facingReach } from './facing-reach.ts';
import { normalCones, type NormalCones } from './normal-cones.ts';
import { nearest, triangleDistanceSq } from './triangle-distance.ts';
import type { WallSearch } from './wall-search.ts';

/**
 * Measures every pair of triangles that could hold a thinner place than those known: both descend the tree, and
 * pairs of nodes fall away when their boxes are too far apart, or their surfaces cannot face each other along any line
 * between the boxes.
 */
export function comparePairs(search: WallSearch): void {
  const { places, tree } = search;
  const bounds = faceBounds(search);
  descend(search, bounds, places.thinnest, Infinity);
  // Other places cost more: how much is bounded, and what is left out then are places, not the thinnest wall.
  descend(search, bounds, places.bound, otherPairs * tree.size);
}

/** Pairs of nodes looked at per face, at most, for places beside the thinnest. */
const otherPairs = 16;

/** Where the faces of the tree may face. */
interface FaceBounds {
  /** Unit normals, 3 per slot. */
  readonly normals: Float64Array;
  /** How far from the normal each slot may face, radians, and the cosine. */
  readonly reach: Float32Array;
  readonly cosReach: Float32Array;
  readonly cones: NormalCones;
  /**
   * Per node, what all its faces have in common of `bulges`. Where one side bends away in some direction and the
   * other in no direction inward, the two come nearer sideways: they are nowhere nearest where they face each other.
   */
  readonly bulging: Uint8Array;
}

function faceBounds({ surface, tree, angles }: WallSearch): FaceBounds {
  const normals = new Float64Array(3 * tree.size);
  const reach = new Float32Array(tree.size);
  const facing = facingReach(surface, angles);
  for (let slot = 0; slot < tree.size; slot++) {
    const f = tree.faceOf[slot];
    reach[slot] = facing.reach[f];
    for (let k = 0; k < 3; k++) normals[3 * slot + k] = surface.normals[3 * f + k];
  }
  const cosReach = reach.map(angle => Math.cos(Math.min(Math.PI, angle + 1e-6)));
  const { links, faceOf } = tree;
  const bulging = new Uint8Array(links.length).fill(3);
  for (let node = links.length - 1; node >= 0; node--) {
    const link = links[node];
    if (link >= 0) bulging[node] = bulging[link] & bulging[link + 1];
    else
      for (let slot = leafStart(link); slot < leafStart(link) + leafCount(link); slot++)
        bulging[node] &= facing.bulges[faceOf[slot]];
  }
  return { normals, reach, cosReach, cones: normalCones(tree, normals, reach), bulging };
}

function descend(search: WallSearch, faces: FaceBounds, boundOf: () => number, budget: number): void {
  const { links, boxes, corners, faceOf, vertices } = search.tree;
  const { normals, reach, cosReach, cones, bulging } = faces;
  let stack = new Int32Array(1024);
  let top = 0;
  let bound = boundOf();
  let left = budget;
  const first: [number, number, number] = [0, 0, 0];
  const second: [number, number, number] = [0, 0, 0];

  const push = (a: number, b: number): void => {
    if (boxDistanceSq(boxes, 6 * a, 6 * b) >= bound * bound) return;
    if (bulgeApart(bulging[a], bulging[b]) || !mayFace(cones, boxes, a, b)) return;
    if (top + 2 > stack.length) {
      const larger = new Int32Array(2 * stack.length);
      larger.set(stack);
      stack = larger;
    }
    stack[top++] = a;
    stack[top++] = b;
  };

  const compareLeaves = (a: number, b: number): void => {
    const startA = leafStart(links[a]);
    const endA = startA + leafCount(links[a]);
    const startB = leafStart(links[b]);
    const endB = startB + leafCount(links[b]);
    for (let s = startA; s < endA; s++) {
      for (let r = a === b ? s + 1 : startB; r < endB; r++) {
        if (!opposed(normals, reach, s, r)) continue;
        for (let k = 0; k < 3; k++) {
          first[k] = 3 * corners[3 * s + k];
          second[k] = 3 * corners[3 * r + k];
        }
        if (touching(first, second)) continue;
        if (behind(vertices, normals, s, first, second, bound)) continue;
        if (behind(vertices, normals, r, second, first, bound)) continue;
        const d = triangleDistanceSq(vertices, first, second, bound * bound * (1 - 1e-9));
        if (!(d > 0 && d < Infinity) || !along(normals, cosReach, s, r)) continue;
        search.offer(faceOf[s], [nearest[0], nearest[1], nearest[2]], faceOf[r], [
          nearest[3],
          nearest[4],
          nearest[5],
        ]);
        bound = boundOf();
      }
    }
  };

  if (links.length > 0) push(0, 0);
  while (top > 0 && left > 0) {
    left--;
    const b = stack[--top];
    const a = stack[--top];
    if (boxDistanceSq(boxes, 6 * a, 6 * b) >= bound * bound) continue;
    const inA = links[a];
    const inB = links[b];
    if (inA < 0 && inB < 0) compareLeaves(a, b);
    else if (a === b) {
      push(inA, inA);
      push(inA + 1, inA + 1);
      push(inA, inA + 1);
    } else if (inB < 0 || (inA >= 0 && boxSize(boxes, 6 * a) >= boxSize(boxes, 6 * b))) {
      push(inA, b);
      push(inA + 1, b);
    } else {
      push(a, inB);
      push(a, inB + 1);
    }
  }
}

function bulgeApart(a: number, b: number): boolean {
  return (a & b) !== 0 && ((a | b) & 1) === 1 && (a & b & 2) === 2;
}

function boxDistanceSq(boxes: Float32Array, a: number, b: number): number {
  const x = Math.max(0, boxes[a] - boxes[b + 3], boxes[b] - boxes[a + 3]);
  const y = Math.max(0, boxes[a + 1] - boxes[b + 4], boxes[b + 1] - boxes[a + 4]);
  const z = Math.max(0, boxes[a + 2] - boxes[b + 5], boxes[b + 2] - boxes[a + 5]);
  return x * x + y * y + z * z;
}

function boxSize(boxes: Float32Array, at: number): number {
  return boxes[at + 3] - boxes[at] + boxes[at + 4] - boxes[at + 1] + boxes[at + 5] - boxes[at + 2];
}

/** Whether the faces of two nodes may face each other: away from each other, and along a line between the boxes. */
function mayFace({ axes, angles }: NormalCones, boxes: Float32Array, a: number, b: number): boolean {
  const both = angles[a] + angles[b];
  if (both >= Math.PI) return true;
  const ax = axes[3 * a];
  const ay = axes[3 * a + 1];
  const az = axes[3 * a + 2];
  const bx = axes[3 * b];
  const by = axes[3 * b + 1];
  const bz = axes[3 * b + 2];
  if (-(ax * bx + ay * by + az * bz) < Math.cos(both)) return false;
  const p = 6 * a;
  const q = 6 * b;
  const x = (boxes[q] + boxes[q + 3] - boxes[p] - boxes[p + 3]) / 2;
  const y = (boxes[q + 1] + boxes[q + 4] - boxes[p + 1] - boxes[p + 4]) / 2;
  const z = (boxes[q + 2] + boxes[q + 5] - boxes[p + 2] - boxes[p + 5]) / 2;
  const apart = Math.sqrt(x * x + y * y + z * z);
  const radii = (boxDiagonal(boxes, p) + boxDiagonal(boxes, q)) / 2;
  if (!(radii < apart)) return true;
  // Any line between balls around the boxes is this near to the line between their middles.
  const spread = Math.asin(radii / apart);
  return (
    -(ax * x + ay * y + az * z) >= apart * Math.cos(Math.min(Math.PI, angles[a] + spread)) &&
    bx * x + by * y + bz * z >= apart * Math.cos(Math.min(Math.PI, angles[b] + spread))
  );
}

function boxDiagonal(boxes: Float32Array, at: number): number {
  const x = boxes[at + 3] - boxes[at];
  const y = boxes[at + 4] - boxes[at + 1];
  const z = boxes[at + 5] - boxes[at + 2];
  return Math.sqrt(x * x + y * y + z * z);
}

function opposed(normals: Float64Array, reach: Float32Array, s: number, r: number): boolean {
  const both = reach[s] + reach[r] + 1e-6;
  const cos =
    normals[3 * s] * normals[3 * r] +
    normals[3 * s + 1] * normals[3 * r + 1] +
    normals[3 * s + 2] * normals[3 * r + 2];
  return both >= Math.PI || -cos >= Math.cos(both);
}

/** Whether the line between the nearest points is within what both faces allow. */
function along(normals: Float64Array, cosReach: Float32Array, s: number, r: number): boolean {
  const x = nearest[3] - nearest[0];
  const y = nearest[4] - nearest[1];
  const z = nearest[5] - nearest[2];
  const length = Math.sqrt(x * x + y * y + z * z);
  return (
    -(x * normals[3 * s] + y * normals[3 * s + 1] + z * normals[3 * s + 2]) >= length * cosReach[s] &&
    x * normals[3 * r] + y * normals[3 * r + 1] + z * normals[3 * r + 2] >= length * cosReach[r]
  );
}

function touching(a: readonly number[], b: readonly number[]): boolean {
  return a.some(vertex => b.includes(vertex));
}

/**
 * Whether triangle `other` lies wholly in front of the plane of slot `s` (then only air is between them), or so far
 * behind it that no point is nearer than the bound.
 */
function behind(
  v: Float64Array,
  normals: Float64Array,
  s: number,
  own: readonly [number, number, number],
  other: readonly [number, number, number],
  bound: number,
): boolean {
  const nx = normals[3 * s];
  const ny = normals[3 * s + 1];
  const nz = normals[3 * s + 2];
  let least = Infinity;
  let most = -Infinity;
  for (let k = 0; k < 3; k++) {
    const height =
      nx * (v[own[0]] - v[other[k]]) +
      ny * (v[own[0] + 1] - v[other[k] + 1]) +
      nz * (v[own[0] + 2] - v[other[k] + 2]);
    if (height < least) least = height;
    if (height > most) most = height;
  }
  return most <= 0 || least >= bound;
}
