import { closestHit, closestPoint, distanceSqToTriangle, noSlot, type TriangleTree } from '@kinprint/mesh';
import { raiseLow, type DistanceBounds } from './bounds.ts';
import { emptyFrame, setFrame } from './frame.ts';
import { copy, cut, maxCorners, polygonStack, stride } from './polygon.ts';

/** What the cover of one triangle works against. */
export interface CoverTask {
  readonly bounds: DistanceBounds;
  /** Pieces are refined until they are known to lie below `bounds.low` + `epsilon`. */
  readonly epsilon: number;
  /** … and, while no point of the triangle is known to lie beyond it, to lie within this. */
  readonly tolerance: number;
  /** The triangle has a point beyond the tolerance, or it could not be decided within the work allowed. */
  changed: boolean;
  /** Pieces that may still be looked at; when none is left, what is known then is taken. */
  work: number;
}

/** Corners of the triangle to cover, 9 numbers, and an upper bound of its distance that holds already. */
export type Cover = (task: CoverTask, triangle: Float64Array, target: number, known: number) => void;

const capacity = 192;
/** Faces steeper than this against the triangle are not projected onto it. */
const leastCosine = 0.2;
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
 * `neighbors` is the face adjacency of `to` by slot.
 */
export function createCover(to: TriangleTree, neighbors: Int32Array): Cover {
  const { vertices, corners, slotOf, faceOf } = to;
  const stack = polygonStack(capacity + 2);
  const { points, corners: cornerCount } = stack;
  const scratch = [capacity, capacity + 1] as const;
  const targets = new Int32Array(capacity);
  const steps = new Int32Array(capacity);
  const frame = emptyFrame();
  const { origin, axes } = frame;
  const flat = new Float64Array(6);
  // The face looked at, in the triangle's frame: corners, then the lines along its edges.
  const q = new Float64Array(9);
  const lines = new Float64Array(9);
  const hit = closestHit();
  let slack = 0;
  let slopeX = 0;
  let slopeY = 0;

  /** Carries a face into the frame; returns whether it can be projected. */
  function load(slot: number): boolean {
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
    slopeX = -nx / nz;
    slopeY = -ny / nz;
    const turn = nz > 0 ? 1 : -1;
    for (let k = 0; k < 3; k++) {
      const i = 3 * k;
      const j = 3 * ((k + 1) % 3);
      const ex = q[j] - q[i];
      const ey = q[j + 1] - q[i + 1];
      const length = turn * Math.sqrt(ex * ex + ey * ey);
      lines[i] = -ey / length;
      lines[i + 1] = ex / length;
      lines[i + 2] = lines[i] * q[i] + lines[i + 1] * q[i + 1];
    }
    return true;
  }

  /** Greatest distance of the corners of a piece from the loaded face's plane, along the normal of the triangle. */
  function greatestHeight(piece: number): number {
    let most = 0;
    for (let i = piece * stride, end = i + 2 * cornerCount[piece]; i < end; i += 2) {
      const height = Math.abs(q[2] + slopeX * (points[i] - q[0]) + slopeY * (points[i + 1] - q[1]));
      if (height > most) most = height;
    }
    return most;
  }

  /** Greatest distance of the corners of a piece from the loaded face: bounds the whole piece. */
  function greatestDistance(piece: number): number {
    let most = 0;
    for (let i = piece * stride, end = i + 2 * cornerCount[piece]; i < end; i += 2) {
      const d = distanceSqToTriangle(q, 0, 3, 6, points[i], points[i + 1], 0);
      if (d > most) most = d;
    }
    return Math.sqrt(most);
  }

  /** True distance of a point of the triangle; the nearest face is in `hit`. */
  function measure(task: CoverTask, x: number, y: number, hintSlot: number): number {
    const px = origin[0] + axes[0] * x + axes[3] * y;
    const py = origin[1] + axes[1] * x + axes[4] * y;
    const pz = origin[2] + axes[2] * x + axes[5] * y;
    closestPoint(to, px, py, pz, hit, Infinity, faceOf[hintSlot]);
    const distance = Math.sqrt(hit.distanceSq);
    raiseLow(task.bounds, distance, px, py, pz);
    if (distance > task.tolerance) task.changed = true;
    return distance;
  }

  /** How far the corners of a piece reach beyond the loaded face, seen along the normal of the triangle. */
  function overshoot(piece: number): number {
    let most = 0;
    for (let i = piece * stride, end = i + 2 * cornerCount[piece]; i < end; i += 2) {
      for (let k = 0; k < 9; k += 3) {
        const beyond = lines[k + 2] - lines[k] * points[i] - lines[k + 1] * points[i + 1];
        if (beyond > most) most = beyond;
      }
    }
    return most;
  }

  /** The neighbor across that edge of the loaded face beyond which the middle of a piece lies farthest. */
  function neighborToward(piece: number, slot: number): number {
    let x = 0;
    let y = 0;
    const n = cornerCount[piece];
    for (let i = piece * stride, end = i + 2 * n; i < end; i += 2) {
      x += points[i] / n;
      y += points[i + 1] / n;
    }
    let edge = 0;
    let least = Infinity;
    for (let k = 0; k < 3; k++) {
      const side = lines[3 * k] * x + lines[3 * k + 1] * y - lines[3 * k + 2];
      if (side < least) {
        least = side;
        edge = k;
      }
    }
    return neighbors[3 * slot + edge];
  }

  return (task, triangle, target, known) => {
    setFrame(frame, triangle, flat);
    slack = 1e-12 * (Math.abs(flat[2]) + Math.abs(flat[3]) + Math.abs(flat[4]) + Math.abs(flat[5]));
    points.set(flat, 0);
    cornerCount[0] = 3;
    targets[0] = target;
    steps[0] = 0;
    let top = 1;
    const { bounds } = task;
    const threshold = (): number => {
      const limit = bounds.low + task.epsilon;
      return task.changed ? limit : Math.min(limit, task.tolerance);
    };
    const accept = (bound: number): void => {
      if (bound > bounds.high) bounds.high = bound;
    };

    /**
     * Settles a piece that no projection helped: by the face nearest to its middle, by its radius, or by halving.
     * The piece has been taken off the stack.
     */
    const settle = (piece: number, slot: number): void => {
      let x0 = Infinity;
      let y0 = Infinity;
      let x1 = -Infinity;
      let y1 = -Infinity;
      for (let i = piece * stride, end = i + 2 * cornerCount[piece]; i < end; i += 2) {
        x0 = Math.min(x0, points[i]);
        x1 = Math.max(x1, points[i]);
        y0 = Math.min(y0, points[i + 1]);
        y1 = Math.max(y1, points[i + 1]);
      }
      // The middle of the box may lie outside the piece, so its mean is taken, which is a point of the triangle.
      let x = 0;
      let y = 0;
      const n = cornerCount[piece];
      for (let i = piece * stride, end = i + 2 * n; i < end; i += 2) {
        x += points[i] / n;
        y += points[i + 1] / n;
      }
      let radius = 0;
      for (let i = piece * stride, end = i + 2 * n; i < end; i += 2) {
        radius = Math.max(radius, (points[i] - x) ** 2 + (points[i + 1] - y) ** 2);
      }
      radius = Math.sqrt(radius);
      const distance = measure(task, x, y, slot);
      const nearest = slotOf[hit.face];
      load(nearest);
      const bound = Math.min(greatestDistance(piece), distance + radius, known);
      if (bound <= threshold()) return accept(bound);
      if (task.work <= 0 || top + 2 > capacity || n + 2 > maxCorners) {
        if (bound > task.tolerance) task.changed = true;
        return accept(bound);
      }
      if (
        radius <= Math.max(0.25 * task.tolerance, 1e-3 * task.epsilon) &&
        bound <= bounds.low + task.epsilon
      ) {
        // Within a quarter of the tolerance of it: not worth telling apart.
        task.changed = true;
        return accept(bound);
      }
      const wide = x1 - x0 >= y1 - y0;
      const first = top;
      copy(stack, piece, scratch[0]);
      cut(
        stack,
        scratch[0],
        first,
        first + 1,
        wide ? 1 : 0,
        wide ? 0 : 1,
        wide ? (x0 + x1) / 2 : (y0 + y1) / 2,
        0,
      );
      for (let half = first; half < first + 2; half++) {
        targets[half] = nearest;
        steps[half] = 0;
      }
      top += 2;
    };

    while (top > 0) {
      const piece = top - 1;
      const slot = targets[piece];
      task.work--;
      const projects = load(slot);
      if (projects && overshoot(piece) <= threshold()) {
        // Nearly the same triangle, as after a motion that was rounded: no need to cut off slivers.
        const bound = Math.min(greatestDistance(piece), known);
        if (bound <= threshold()) {
          accept(bound);
          top--;
          continue;
        }
      }
      let covered = false;
      let rest = top;
      let inside = piece;
      if (projects && task.work > 0 && top + 3 <= capacity && cornerCount[piece] + 3 <= maxCorners) {
        covered = true;
        for (let k = 0; k < 3 && covered; k++) {
          const next = inside === scratch[0] ? scratch[1] : scratch[0];
          covered = cut(stack, inside, next, rest, lines[3 * k], lines[3 * k + 1], lines[3 * k + 2], slack);
          if (cornerCount[rest] > 0) {
            targets[rest] = neighbors[3 * slot + k];
            steps[rest] = 1;
            rest++;
          }
          inside = next;
        }
      }
      if (covered) {
        // What lies beyond an edge without a neighbor is best measured from this face.
        for (let i = top; i < rest; i++) {
          if (targets[i] >= 0) continue;
          targets[i] = slot;
          steps[i] = mostSteps;
        }
        let bound = greatestHeight(inside);
        if (bound > threshold()) bound = Math.min(bound, greatestDistance(inside));
        const settled = bound <= threshold();
        if (settled) accept(bound);
        // The rest moves down into the place of the piece.
        top--;
        if (rest > top + 1) {
          copy(stack, rest - 1, top);
          targets[top] = targets[rest - 1];
          steps[top] = steps[rest - 1];
          top = rest - 1;
        }
        if (!settled) settle(inside, slot);
        continue;
      }
      const bound = Math.min(greatestDistance(piece), known);
      if (bound <= threshold()) {
        accept(bound);
        top--;
        continue;
      }
      const next = projects && steps[piece] < mostSteps && task.work > 0 ? neighborToward(piece, slot) : -1;
      if (next >= 0) {
        targets[piece] = next;
        steps[piece]++;
        continue;
      }
      if (steps[piece] <= mostSteps && task.work > 0) {
        let x = 0;
        let y = 0;
        const n = cornerCount[piece];
        for (let i = piece * stride, end = i + 2 * n; i < end; i += 2) {
          x += points[i] / n;
          y += points[i + 1] / n;
        }
        measure(task, x, y, slot);
        const nearest = slotOf[hit.face];
        if (nearest !== slot && nearest !== noSlot) {
          targets[piece] = nearest;
          steps[piece] = mostSteps + 1;
          continue;
        }
      }
      top--;
      settle(piece, slot);
    }
  };
}
