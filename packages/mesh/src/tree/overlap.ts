import type { Vec3 } from '../types.ts';
import { leafCount, leafStart, maxDepth } from './tree.ts';
import type { TriangleTree } from './tree.ts';

/**
 * Calls `found` for every face whose box meets the box `min`…`max` (touching counts). Stops when `found` returns true.
 */
export function forEachInBox(
  tree: TriangleTree,
  min: Vec3,
  max: Vec3,
  found: (face: number) => unknown,
): void {
  const { boxes, links, center, faceOf } = tree;
  if (links.length === 0) return;
  const low = [min[0] - center[0], min[1] - center[1], min[2] - center[2]] as const;
  const high = [max[0] - center[0], max[1] - center[1], max[2] - center[2]] as const;
  const stack = [0];
  for (let node = stack.pop(); node !== undefined; node = stack.pop()) {
    const o = 6 * node;
    if (boxes[o] > high[0] || boxes[o + 1] > high[1] || boxes[o + 2] > high[2]) continue;
    if (boxes[o + 3] < low[0] || boxes[o + 4] < low[1] || boxes[o + 5] < low[2]) continue;
    const link = links[node];
    if (link >= 0) {
      stack.push(link + 1, link);
      continue;
    }
    const start = leafStart(link);
    const end = start + leafCount(link);
    for (let slot = start; slot < end; slot++) {
      if (!slotMeetsBox(tree, slot, min, max)) continue;
      if (found(faceOf[slot]) === true) return;
    }
  }
}

/**
 * Calls `found` for every pair of a face of `a` and a face of `b` whose boxes come within `margin` of each other
 * along every axis (touching counts). With one tree twice, every unordered pair of different faces once. Stops when
 * `found` returns true. The order of the pairs is fixed, but has no meaning.
 *
 * @param groups with one tree twice, a group per node of the tree that all its faces are in, or −1: pairs of nodes of
 * one group are left out
 */
export function overlappingPairs(
  a: TriangleTree,
  b: TriangleTree,
  found: (faceA: number, faceB: number) => unknown,
  margin = 0,
  groups: Int32Array | null = null,
): void {
  if (a.links.length === 0 || b.links.length === 0) return;
  const self = a === b;
  // From b's boxes to a's: the difference of the centers; its rounding is covered by the boxes' outward rounding.
  const shift = [b.center[0] - a.center[0], b.center[1] - a.center[1], b.center[2] - a.center[2]] as const;
  const stack = new Int32Array(8 * maxDepth + 16);
  let top = 2;
  while (top > 0) {
    const nodeA = stack[--top];
    const nodeB = stack[--top];
    const linkA = a.links[nodeA];
    const linkB = b.links[nodeB];
    if (groups !== null && groups[nodeA] >= 0 && groups[nodeA] === groups[nodeB]) continue;
    if (self && nodeA === nodeB) {
      if (linkA >= 0) {
        stack[top++] = linkA + 1;
        stack[top++] = linkA + 1;
        stack[top++] = linkA + 1;
        stack[top++] = linkA;
        stack[top++] = linkA;
        stack[top++] = linkA;
      } else if (pairsOfLeaves(a, linkA, b, linkB, true, margin, found)) return;
      continue;
    }
    if (!nodesMeet(a.boxes, 6 * nodeA, b.boxes, 6 * nodeB, shift, margin)) continue;
    if (linkA < 0 && linkB < 0) {
      if (pairsOfLeaves(a, linkA, b, linkB, false, margin, found)) return;
    } else if (linkB < 0 || (linkA >= 0 && girth(a.boxes, 6 * nodeA) >= girth(b.boxes, 6 * nodeB))) {
      stack[top++] = nodeB;
      stack[top++] = linkA + 1;
      stack[top++] = nodeB;
      stack[top++] = linkA;
    } else {
      stack[top++] = linkB + 1;
      stack[top++] = nodeA;
      stack[top++] = linkB;
      stack[top++] = nodeA;
    }
  }
}

function nodesMeet(
  a: Float32Array,
  i: number,
  b: Float32Array,
  j: number,
  shift: readonly [number, number, number],
  margin: number,
): boolean {
  for (let k = 0; k < 3; k++) {
    const low = b[j + k] + shift[k];
    const high = b[j + k + 3] + shift[k];
    if (a[i + k] > high + margin || low > a[i + k + 3] + margin) return false;
  }
  return true;
}

function girth(boxes: Float32Array, o: number): number {
  return boxes[o + 3] - boxes[o] + boxes[o + 4] - boxes[o + 1] + boxes[o + 5] - boxes[o + 2];
}

function pairsOfLeaves(
  a: TriangleTree,
  linkA: number,
  b: TriangleTree,
  linkB: number,
  same: boolean,
  margin: number,
  found: (faceA: number, faceB: number) => unknown,
): boolean {
  const startA = leafStart(linkA);
  const endA = startA + leafCount(linkA);
  const startB = leafStart(linkB);
  const endB = startB + leafCount(linkB);
  for (let i = startA; i < endA; i++) {
    for (let j = same ? i + 1 : startB; j < endB; j++) {
      if (!slotsMeet(a, i, b, j, margin)) continue;
      if (found(a.faceOf[i], b.faceOf[j]) === true) return true;
    }
  }
  return false;
}

function slotsMeet(a: TriangleTree, i: number, b: TriangleTree, j: number, margin: number): boolean {
  for (let k = 0; k < 3; k++) {
    if (least(a, i, k) > most(b, j, k) + margin || least(b, j, k) > most(a, i, k) + margin) return false;
  }
  return true;
}

function slotMeetsBox(tree: TriangleTree, slot: number, min: Vec3, max: Vec3): boolean {
  for (let k = 0; k < 3; k++) {
    if (least(tree, slot, k) > max[k] || most(tree, slot, k) < min[k]) return false;
  }
  return true;
}

function least(tree: TriangleTree, slot: number, axis: number): number {
  const { vertices: v, corners: c } = tree;
  return Math.min(v[3 * c[3 * slot] + axis], v[3 * c[3 * slot + 1] + axis], v[3 * c[3 * slot + 2] + axis]);
}

function most(tree: TriangleTree, slot: number, axis: number): number {
  const { vertices: v, corners: c } = tree;
  return Math.max(v[3 * c[3 * slot] + axis], v[3 * c[3 * slot + 1] + axis], v[3 * c[3 * slot + 2] + axis]);
}
