import { closestHit, closestPoint, type TriangleTree } from '@kinprint/mesh';
import { raiseLow } from './bounds.ts';
import { createCover } from './cover.ts';
import { threshold, type Cover, type CoverTask } from './cover-task.ts';
import { createSheet } from './sheet.ts';

/** Numbers per piece: the corners, the slot to start at, and the bound that holds already. */
const stride = 11;
const capacity = 128;
/** Pieces of the cover of one triangle before it is halved. */
const coverPieces = 256;
/** What a halving costs, in pieces. */
const halvingCost = 8;

/** The ways to bound a triangle: `quick` tries each once, `thorough` takes it apart. */
export interface WholeTriangle {
  readonly quick: Cover;
  readonly thorough: Cover;
}

/**
 * Returns functions that bound the distance of a whole triangle from the surface of `to`: as one sheet, else by a
 * cover; `thorough` then by both halves of it, so that a large facet over thousands of small ones costs about what these
 * cost, and a fold under one end of it does not spoil the rest.
 */
export function createWhole(to: TriangleTree, neighbors: Int32Array): WholeTriangle {
  const sheet = createSheet(to, neighbors);
  const cover = createCover(to, neighbors);
  const stack = new Float64Array(stride * capacity);
  const triangle = new Float64Array(9);
  const hit = closestHit();

  /** Cuts the piece at `p` at its longest edge; the halves go there and to the next place. */
  function halve(p: number): void {
    let longest = -1;
    let i = p;
    for (let k = 0; k < 3; k++) {
      const at = p + 3 * k;
      const next = k === 2 ? p : at + 3;
      const length =
        (stack[at] - stack[next]) ** 2 +
        (stack[at + 1] - stack[next + 1]) ** 2 +
        (stack[at + 2] - stack[next + 2]) ** 2;
      if (length <= longest) continue;
      longest = length;
      i = at;
    }
    const j = i === p + 6 ? p : i + 3;
    stack.copyWithin(p + stride, p, p + stride);
    for (let k = 0; k < 3; k++) {
      stack[j + k] = stack[i + stride + k] = (stack[i + k] + stack[j + k]) / 2;
    }
  }

  /** Measures the middle of the piece at `p`, and sets what follows for the whole piece. */
  function look(task: CoverTask, p: number): void {
    const x = (stack[p] + stack[p + 3] + stack[p + 6]) / 3;
    const y = (stack[p + 1] + stack[p + 4] + stack[p + 7]) / 3;
    const z = (stack[p + 2] + stack[p + 5] + stack[p + 8]) / 3;
    closestPoint(to, x, y, z, hit, Infinity, to.faceOf[stack[p + 9]]);
    const distance = Math.sqrt(hit.distanceSq);
    raiseLow(task.bounds, distance, x, y, z);
    if (distance > task.tolerance) task.changed = true;
    let reachSq = 0;
    for (let k = p; k < p + 9; k += 3) {
      reachSq = Math.max(reachSq, (stack[k] - x) ** 2 + (stack[k + 1] - y) ** 2 + (stack[k + 2] - z) ** 2);
    }
    stack[p + 9] = hit.slot;
    stack[p + 10] = Math.min(stack[p + 10], distance + Math.sqrt(reachSq));
  }

  /** The cover, within a share of the work. */
  function covered(task: CoverTask, slot: number, bound: number): boolean {
    const rest = task.work - coverPieces;
    task.work = coverPieces;
    const done = cover(task, triangle, slot, bound);
    task.work += rest;
    return done;
  }

  const thorough: Cover = (task, whole, first, known) => {
    stack.set(whole, 0);
    stack[9] = first;
    stack[10] = known;
    let top = 1;
    while (top > 0) {
      if (task.work <= 0) return false;
      const p = stride * (top - 1);
      for (let k = 0; k < 9; k++) triangle[k] = stack[p + k];
      const slot = stack[p + 9];
      const bound = stack[p + 10];
      if (bound <= threshold(task)) {
        if (bound > task.bounds.high) task.bounds.high = bound;
        top--;
        continue;
      }
      if (sheet(task, triangle, slot, bound) || covered(task, slot, bound)) {
        top--;
        continue;
      }
      if (top === capacity) return false;
      task.work -= halvingCost;
      halve(p);
      look(task, p);
      look(task, p + stride);
      top++;
    }
    return true;
  };

  return {
    quick: (task, whole, first, known) =>
      sheet(task, whole, first, known) || cover(task, whole, first, known),
    thorough,
  };
}
