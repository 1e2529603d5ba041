import { closestHit, type TriangleTree } from '@kinprint/mesh';
import { measurePoint, threshold, type Cover, type CoverTask } from './cover-task.ts';
import { emptyFrame, setFrame } from './frame.ts';
import { cut, polygonStack, stride } from './polygon.ts';
import {
  distanceToTarget,
  emptyTarget,
  greatestDistance,
  greatestHeight,
  loadTarget,
  overshoot,
} from './target.ts';

/** Faces of the other surface that one triangle may lie over; beyond, `cover` takes it apart. */
const mostFaces = 256;

/**
 * Returns a function that bounds the distance of a triangle which lies over a single sheet of the other surface, much
 * faster than `createCover` does; it returns false wherever it cannot, and then nothing has been learned.
 *
 * Seen along the triangle's normal, the faces are gathered from a point of the triangle outward, across every edge
 * that meets it. When all of them face the same way and no edge lacks its neighbor, they cover the triangle: the
 * straight way from the first point to any other crosses only edges that were followed, and goes on in the next face.
 * So every point lies straight over or under one of the faces, at a distance no greater than the greatest at the
 * corners of the part that the face and the triangle have in common. `neighbors` are the `orientedNeighbors` of `to`.
 */
export function createSheet(to: TriangleTree, neighbors: Int32Array): Cover {
  const stack = polygonStack(5);
  const { points } = stack;
  const frame = emptyFrame();
  const target = emptyTarget();
  const { lines } = target;
  const q = target.corners;
  const flat = new Float64Array(6);
  /** Lines along the edges of the triangle: unit inward normal and offset. */
  const sides = new Float64Array(9);
  /** How far inside each of these lines (row) each corner of the loaded face lies (column), and the reverse. */
  const faceInside = new Float64Array(9);
  const triangleInside = new Float64Array(9);
  const queue = new Int32Array(mostFaces);
  const seen = new Int32Array(to.size);
  let epoch = 0;
  const hit = closestHit();

  /** Sets `sides`; false for a triangle without area. */
  function setSides(): boolean {
    if (!(flat[2] * flat[5] - flat[3] * flat[4] > 0)) return false;
    for (let k = 0; k < 3; k++) {
      const i = 2 * k;
      const j = k === 2 ? 0 : i + 2;
      const ex = flat[j] - flat[i];
      const ey = flat[j + 1] - flat[i + 1];
      const length = Math.sqrt(ex * ex + ey * ey);
      sides[3 * k] = -ey / length;
      sides[3 * k + 1] = ex / length;
      sides[3 * k + 2] = sides[3 * k] * flat[i] + sides[3 * k + 1] * flat[i + 1];
    }
    return true;
  }

  /** Sets `faceInside` and `triangleInside` for the loaded face. */
  function setInside(): void {
    for (let row = 0; row < 9; row += 3) {
      for (let column = 0; column < 3; column++) {
        faceInside[row + column] =
          sides[row] * q[3 * column] + sides[row + 1] * q[3 * column + 1] - sides[row + 2];
        triangleInside[row + column] =
          lines[row] * flat[2 * column] + lines[row + 1] * flat[2 * column + 1] - lines[row + 2];
      }
    }
  }

  /** Whether edge k of the loaded face may meet the triangle; errs on the side of yes. */
  function edgeMeets(k: number): boolean {
    const slack = stack.slack[0];
    const next = k === 2 ? 0 : k + 1;
    for (let row = 0; row < 9; row += 3) {
      if (faceInside[row + k] < -slack && faceInside[row + next] < -slack) return false;
    }
    const row = 3 * k;
    const a = triangleInside[row];
    const b = triangleInside[row + 1];
    const c = triangleInside[row + 2];
    return Math.min(a, b, c) < slack && Math.max(a, b, c) > -slack;
  }

  /** The part of the triangle over the loaded face, as polygon 0 … 3; −1 when there is none. */
  function common(): number {
    points.set(flat, 0);
    stack.corners[0] = 3;
    let part = 0;
    for (let row = 0; row < 9; row += 3) {
      if (Math.min(triangleInside[row], triangleInside[row + 1], triangleInside[row + 2]) >= 0) continue;
      if (!cut(stack, part, part + 1, 4, lines, row)) return -1;
      part++;
    }
    return part;
  }

  /** Measures that corner of a polygon which lies farthest from the loaded face. */
  function measureFarthest(task: CoverTask, polygon: number, slot: number): void {
    let most = -1;
    let at = 0;
    for (let i = polygon * stride, end = i + 2 * stack.corners[polygon]; i < end; i += 2) {
      const d = distanceToTarget(target, points[i], points[i + 1]);
      if (d <= most) continue;
      most = d;
      at = i;
    }
    measurePoint(task, to, frame, points[at], points[at + 1], slot, hit);
  }

  /** Bound of the part of the triangle over the loaded face; Infinity when it exceeds the threshold. */
  function boundPart(task: CoverTask, slot: number, part: number): number {
    if (part < 0) return 0;
    const height = greatestHeight(target, stack, part);
    if (height <= threshold(task)) return height;
    const distance = greatestDistance(target, stack, part);
    if (distance <= threshold(task)) return distance;
    measureFarthest(task, part, slot);
    return distance <= threshold(task) ? distance : Infinity;
  }

  return (task, triangle, first, known) => {
    setFrame(frame, triangle, flat);
    if (!setSides()) return false;
    stack.slack[0] = 1e-12 * (Math.abs(flat[2]) + Math.abs(flat[3]) + Math.abs(flat[4]) + Math.abs(flat[5]));
    if (++epoch > 0x7fffffff) return false;
    queue[0] = first;
    seen[first] = epoch;
    let high = 0;
    let length = 1;
    let turn = 0;
    for (let next = 0; next < length; next++) {
      task.work--;
      const slot = queue[next];
      if (!loadTarget(target, frame, to, slot)) return false;
      if (next === 0) {
        turn = target.plane[3];
        points.set(flat, 0);
        stack.corners[0] = 3;
        // Nearly the same triangle, as after a motion that was rounded.
        if (overshoot(target, stack, 0) <= threshold(task)) {
          const bound = Math.min(greatestDistance(target, stack, 0), known);
          if (bound <= threshold(task)) {
            task.bounds.high = Math.max(task.bounds.high, bound);
            return true;
          }
        }
      }
      if (target.plane[3] !== turn) return false;
      setInside();
      // The first face must lie over the triangle: from there the others are reached.
      if (next === 0 && common() < 0) return false;
      let bound = Math.max(Math.abs(q[2]), Math.abs(q[5]), Math.abs(q[8]));
      if (bound > threshold(task)) {
        bound = boundPart(task, slot, common());
        if (bound === Infinity) return false;
      }
      if (bound > high) high = bound;
      for (let k = 0; k < 3; k++) {
        if (!edgeMeets(k)) continue;
        const neighbor = neighbors[3 * slot + k];
        if (neighbor < 0) return false;
        if (seen[neighbor] === epoch) continue;
        if (length === mostFaces) return false;
        seen[neighbor] = epoch;
        queue[length++] = neighbor;
      }
    }
    task.bounds.high = Math.max(task.bounds.high, Math.min(high, known));
    return true;
  };
}
