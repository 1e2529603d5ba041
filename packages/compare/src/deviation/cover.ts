import { closestHit, type TriangleTree } from '@kinprint/mesh';
import { measurePoint, threshold, type Cover, type CoverTask } from './cover-task.ts';
import { emptyFrame, setFrame } from './frame.ts';
import { copy, cut, maxCorners, middleOf, polygonStack, stride } from './polygon.ts';
import {
  distanceToTarget,
  edgeToward,
  emptyTarget,
  greatestDistance,
  greatestHeight,
  loadTarget,
  overshoot,
} from './target.ts';

/** Polygons on the stack; halving goes 50 deep before coordinates run out, and leaves at most 3 at each level. */
const capacity = 192;
/** Steps from neighbor to neighbor before the nearest face is searched again. */
const mostSteps = 4;

/**
 * Returns a function that bounds the distance of a whole triangle from the surface of `to`.
 *
 * The triangle is laid out over the faces of the other surface: projected along its normal, each face takes the part
 * it covers, the rest goes to the neighbor across the edge. Any such division will do: the distance from one face is
 * a convex function, so over a piece it is greatest at a corner, and the distance from the surface is no greater.
 * Where a piece stays above the threshold, the true distance of its points raises the lower bound, or the piece is
 * halved; a piece lies within its radius of its middle, and the distance changes by no more than the way (it is
 * 1-Lipschitz), so this ends.
 *
 * `neighbors` are the `orientedNeighbors` of `to`. The function keeps state: one for each thread.
 */
export function createCover(to: TriangleTree, neighbors: Int32Array): Cover {
  const { slotOf } = to;
  const stack = polygonStack(capacity + 2);
  const { points, corners } = stack;
  const scratch = capacity;
  const targets = new Int32Array(capacity);
  const steps = new Int32Array(capacity);
  const frame = emptyFrame();
  const target = emptyTarget();
  const { lines } = target;
  const flat = new Float64Array(6);
  const middle = new Float64Array(2);
  const across = new Float64Array(3);
  const hit = closestHit();

  /** True distance of a point of the triangle; the nearest face is in `hit`. */
  function measure(task: CoverTask, x: number, y: number, hintSlot: number): number {
    return measurePoint(task, to, frame, x, y, hintSlot, hit);
  }

  /** Measures that corner of a piece which lies farthest from the loaded face. */
  function measureFarthest(task: CoverTask, piece: number, slot: number): void {
    let most = -1;
    let at = 0;
    for (let i = piece * stride, end = i + 2 * corners[piece]; i < end; i += 2) {
      const d = distanceToTarget(target, points[i], points[i + 1]);
      if (d <= most) continue;
      most = d;
      at = i;
    }
    measure(task, points[at], points[at + 1], slot);
  }

  /**
   * Settles a piece that no projection helped: by the face nearest to its middle, by its radius, or by halving, for
   * which the halves go on the stack at `top`. Returns the new top, −1 without room for them.
   */
  function settle(task: CoverTask, piece: number, slot: number, known: number, top: number): number {
    const { bounds } = task;
    const radius = middleOf(stack, piece, middle);
    const distance = measure(task, middle[0], middle[1], slot);
    const nearest = slotOf[hit.face];
    loadTarget(target, frame, to, nearest);
    const bound = Math.min(greatestDistance(target, stack, piece), distance + radius, known);
    const tiny = radius <= Math.max(0.25 * task.tolerance, 1e-3 * task.epsilon);
    // Within a quarter of the tolerance of it is not worth telling apart.
    if (tiny && bound > task.tolerance && bound <= bounds.low + task.epsilon) task.changed = true;
    if (bound <= threshold(task)) {
      bounds.high = Math.max(bounds.high, bound);
      return top;
    }
    if (top + 2 > capacity || corners[piece] + 2 > maxCorners) return -1;
    halve(piece, top);
    targets[top] = targets[top + 1] = nearest;
    steps[top] = steps[top + 1] = 0;
    return top + 2;
  }

  /** Cuts a piece across its wider extent; the halves go to `first` and the one after it. */
  function halve(piece: number, first: number): void {
    copy(stack, piece, scratch);
    let x0 = Infinity;
    let y0 = Infinity;
    let x1 = -Infinity;
    let y1 = -Infinity;
    for (let i = scratch * stride, end = i + 2 * corners[scratch]; i < end; i += 2) {
      x0 = Math.min(x0, points[i]);
      x1 = Math.max(x1, points[i]);
      y0 = Math.min(y0, points[i + 1]);
      y1 = Math.max(y1, points[i + 1]);
    }
    const wide = x1 - x0 >= y1 - y0;
    across[0] = wide ? 1 : 0;
    across[1] = wide ? 0 : 1;
    across[2] = wide ? (x0 + x1) / 2 : (y0 + y1) / 2;
    cut(stack, scratch, first, first + 1, across, 0);
  }

  /**
   * Cuts the topmost piece along the edges of the loaded face. Returns where the part over the face is, −1 when there
   * is none; the parts beyond the edges then stand at `top` … `restEnd`.
   */
  let restEnd = 0;
  function project(slot: number, top: number): number {
    let inside = top - 1;
    restEnd = top;
    if (top + 3 > capacity || corners[inside] + 3 > maxCorners) return -1;
    for (let k = 0; k < 3; k++) {
      const next = inside === scratch ? scratch + 1 : scratch;
      const some = cut(stack, inside, next, restEnd, lines, 3 * k);
      if (!some) return -1;
      if (corners[restEnd] > 0) {
        const neighbor = neighbors[3 * slot + k];
        // What lies beyond an edge without a neighbor is best measured from this face.
        targets[restEnd] = neighbor < 0 ? slot : neighbor;
        steps[restEnd] = neighbor < 0 ? mostSteps : 1;
        restEnd++;
      }
      inside = next;
    }
    return inside;
  }

  return (task, triangle, firstTarget, known) => {
    const { bounds } = task;
    setFrame(frame, triangle, flat);
    stack.slack[0] = 1e-12 * (Math.abs(flat[2]) + Math.abs(flat[3]) + Math.abs(flat[4]) + Math.abs(flat[5]));
    points.set(flat, 0);
    corners[0] = 3;
    targets[0] = firstTarget;
    steps[0] = 0;
    let top = 1;
    while (top !== 0) {
      if (top < 0 || task.work-- <= 0) return false;
      const piece = top - 1;
      const slot = targets[piece];
      const projects = loadTarget(target, frame, to, slot);
      let inside = -1;
      // Nearly the same triangle, as after a motion that was rounded: no need to cut off slivers.
      if (projects && overshoot(target, stack, piece) > threshold(task)) inside = project(slot, top);
      if (inside >= 0) {
        let bound = greatestHeight(target, stack, inside);
        if (bound > threshold(task)) bound = Math.min(bound, greatestDistance(target, stack, inside), known);
        if (bound > threshold(task)) measureFarthest(task, inside, slot);
        // The rest moves down into the place of the piece.
        top--;
        if (restEnd > top + 1) {
          copy(stack, restEnd - 1, top);
          targets[top] = targets[restEnd - 1];
          steps[top] = steps[restEnd - 1];
          top = restEnd - 1;
        }
        if (bound <= threshold(task)) bounds.high = Math.max(bounds.high, bound);
        else top = settle(task, inside, slot, known, top);
        continue;
      }
      const bound = Math.min(greatestDistance(target, stack, piece), known);
      if (bound <= threshold(task)) {
        bounds.high = Math.max(bounds.high, bound);
        top--;
        continue;
      }
      if (steps[piece] <= mostSteps) {
        middleOf(stack, piece, middle);
        if (projects && steps[piece] < mostSteps) {
          const next = neighbors[3 * slot + edgeToward(target, middle[0], middle[1])];
          if (next >= 0) {
            targets[piece] = next;
            steps[piece]++;
            continue;
          }
        }
        measure(task, middle[0], middle[1], slot);
        targets[piece] = slotOf[hit.face];
        steps[piece] = mostSteps + 1;
        if (targets[piece] !== slot) continue;
      }
      top = settle(task, piece, slot, known, top - 1);
    }
    return true;
  };
}
