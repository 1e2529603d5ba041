import { meshDefaults } from '../defaults.ts';
import { leafCount, leafStart } from '../tree/tree.ts';
import { facingBounds, facingDistance, radiusOf, type FacingBounds } from './facing-bounds.ts';
import { facingReach } from './facing-reach.ts';
import { mayFace, type FacingPieces } from './facing-pieces.ts';
import { leafMayFace } from './long-faces.ts';
import { touching } from './pair-tests.ts';
import { pairStack, pushNearestLast } from './pair-stack.ts';
import { nearest, triangleDistanceSq } from './triangle-distance.ts';
import type { WallSearch } from './wall-search.ts';

/**
 * Measures every pair of triangles that could hold a thinner place than those known: both descend the tree, and
 * pairs of nodes fall away when they are too far apart, or their surfaces cannot face each other along any line
 * between them.
 *
 * @param pairsPerFace pairs of nodes and faces looked at per face, at most
 * @returns the distance below which no wall was missed; Infinity when none was missed by more than the tolerance
 */
export function comparePairs(search: WallSearch, pairsPerFace: number): number {
  const { places, tree } = search;
  const { tolerance } = meshDefaults.walls;
  const extra = Math.min(meshDefaults.walls.extraPairsPerFace, pairsPerFace);
  const faces = pairFaces(search);
  const work = Math.max(tree.size, smallMesh);
  const sure = 1 - tolerance;
  let missed = descend(search, faces, places.thinnest, extra * work);
  if (missed < sure * places.thinnest())
    missed = descend(search, faces, () => sure * places.thinnest(), pairsPerFace * work);
  if (missed < sure * places.thinnest()) return missed;
  // What is left out from here on is another place.
  if (places.bound() > places.thinnest() / sure)
    descend(search, faces, places.bound, extra * (tree.size + otherPlaces));
  return Infinity;
}

/** Meshes of fewer faces are worked on as if they had so many: all pairs of a thousand faces are half a million. */
const smallMesh = 30_000;
/** What a ray visits in the time that a pair of nodes takes; measured. */
const visitsPerPair = 8;
/** The same for the search for other places. */
const otherPlaces = 10_000;

interface PairFaces {
  readonly bounds: FacingBounds;
  readonly pieces: FacingPieces;
  /**
   * Per node, what all its faces have in common of `bulges`. Where one side bends away in some direction and the
   * other in no direction inward, the two come nearer sideways: they are nowhere nearest where they face each other.
   */
  readonly bulging: Uint8Array;
}

function pairFaces({ surface, tree, angles }: WallSearch): PairFaces {
  const facing = facingReach(surface, angles);
  const { links, faceOf } = tree;
  const bulging = new Uint8Array(links.length).fill(3);
  for (let node = links.length - 1; node >= 0; node--) {
    const link = links[node];
    if (link >= 0) bulging[node] = bulging[link] & bulging[link + 1];
    else
      for (let slot = leafStart(link); slot < leafStart(link) + leafCount(link); slot++)
        bulging[node] &= facing.bulges[faceOf[slot]];
  }
  const pieces = { ...facing, vertices: tree.vertices, normals: surface.normals };
  return { bounds: facingBounds(tree, surface.normals, facing.reach), pieces, bulging };
}

/** Faces of leaves this many times as large as a node are looked at one by one; common practice, no source. */
const long = 2;

/** Returns the least distance that pairs left out for want of budget may have. */
function descend(search: WallSearch, faces: PairFaces, boundOf: () => number, budget: number): number {
  const { links, boxes, corners, faceOf, vertices } = search.tree;
  const { bounds, pieces, bulging } = faces;
  const stack = pairStack();
  let bound = boundOf();
  let left = budget;
  const first: [number, number, number] = [0, 0, 0];
  const second: [number, number, number] = [0, 0, 0];

  const push = (base: number, a: number, b: number): void => {
    if (bulgeApart(bulging[a], bulging[b])) return;
    const boxSq = boxDistanceSq(boxes, 6 * a, 6 * b);
    if (boxSq >= bound * bound) return;
    const least = facingDistance(bounds, a, b);
    if (least >= bound) return;
    if (links[a] < 0 && radiusOf(bounds, a) > long * radiusOf(bounds, b)) {
      if (!leafMayFace(search.tree, bounds, pieces, a, b, bound)) return;
    } else if (links[b] < 0 && radiusOf(bounds, b) > long * radiusOf(bounds, a)) {
      if (!leafMayFace(search.tree, bounds, pieces, b, a, bound)) return;
    }
    pushNearestLast(stack, base, a, b, Math.max(least, Math.sqrt(boxSq)));
  };

  const compareSlots = (s: number, r: number): void => {
    for (let k = 0; k < 3; k++) {
      first[k] = 3 * corners[3 * s + k];
      second[k] = 3 * corners[3 * r + k];
    }
    const [f, g] = [faceOf[s], faceOf[r]];
    if (touching(first, second)) return;
    left -= 0.25;
    if (!mayFace(pieces, f, first, g, second, bound)) return;
    left -= 2;
    const d = triangleDistanceSq(vertices, first, second, bound * bound * (1 - 1e-9));
    if (!(d > 0 && d < Infinity) || !along(pieces, f, g)) return;
    left -= 2;
    const before = search.visits();
    search.offer(f, [nearest[0], nearest[1], nearest[2]], g, [nearest[3], nearest[4], nearest[5]]);
    left -= (search.visits() - before) / visitsPerPair;
    bound = boundOf();
  };

  if (links.length > 0) push(0, 0, 0);
  while (stack.size > 0 && left > 0) {
    left--;
    const top = --stack.size;
    if (stack.least[top] >= bound) continue;
    const a = stack.a[top];
    const b = stack.b[top];
    const inA = links[a];
    const inB = links[b];
    if (inA < 0 && inB < 0) {
      const endA = leafStart(inA) + leafCount(inA);
      const endB = leafStart(inB) + leafCount(inB);
      for (let s = leafStart(inA); s < endA; s++)
        for (let r = a === b ? s + 1 : leafStart(inB); r < endB; r++)
          if (facingDistance(bounds, links.length + s, links.length + r) < bound) compareSlots(s, r);
    } else if (a === b) {
      push(top, inA, inA);
      push(top, inA + 1, inA + 1);
      push(top, inA, inA + 1);
    } else if (inB < 0 || (inA >= 0 && boxSize(boxes, 6 * a) >= boxSize(boxes, 6 * b))) {
      push(top, inA, b);
      push(top, inA + 1, b);
    } else {
      push(top, a, inB);
      push(top, a, inB + 1);
    }
  }
  let missed = Infinity;
  for (let i = 0; i < stack.size; i++) missed = Math.min(missed, stack.least[i]);
  return missed;
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

/** Whether the line between the nearest points is within what both faces allow. */
function along({ normals, reach }: FacingPieces, f: number, g: number): boolean {
  const x = nearest[3] - nearest[0];
  const y = nearest[4] - nearest[1];
  const z = nearest[5] - nearest[2];
  const length = Math.sqrt(x * x + y * y + z * z);
  const cos = (face: number): number =>
    (x * normals[3 * face] + y * normals[3 * face + 1] + z * normals[3 * face + 2]) / length;
  const least = (face: number): number => Math.cos(Math.min(Math.PI, reach[face] + 1e-6));
  return -cos(f) >= least(f) && cos(g) >= least(g);
}
