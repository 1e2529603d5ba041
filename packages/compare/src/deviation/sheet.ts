import { closestHit, type TriangleTree } from '@kinprint/mesh';
import { measurePoint, threshold, type Cover, type CoverTask } from './cover-task.ts';
import { emptyFrame, setFrame } from './frame.ts';
import { cut, polygonStack, stride } from './polygon.ts';
import { distanceToTarget, emptyTarget, greatestDistance, greatestHeight, loadTarget } from './target.ts';

/** Faces of the other surface that one triangle may lie over; beyond, it is taken apart. */
const mostFaces = 4096;
/** Steps from neighbor to neighbor on the way to the face that the middle of the triangle lies over. */
const mostSteps = 32;
/** Triangles flatter than this against their size count as needles. */
const leastHeight = 1e-4;

/**
 * Returns a function that bounds the distance of a triangle which lies over a single sheet of the other surface, much
 * faster than `createCover` does; it returns false wherever it cannot, and then nothing has been learned.
 *
 * Seen along the triangle's normal, the faces are gathered from its middle outward, across every edge
 * that meets it. When all of them face the same way, they cover the triangle: the straight way from the middle to any
 * other point crosses only edges that were followed, and goes on in the next face. So every point lies straight over or
 * under one of the faces, at a distance no greater than the greatest at the corners of the part that the face and the
 * triangle have in common.
 *
 * An edge without a fit neighbor, as where the sheet bends away sharply, need not be followed when the part of the
 * triangle beyond its line is near enough to the face itself: what is left is convex still and holds the middle. Nor
 * need edges be followed that meet no more than a rim of the triangle, 1e-11 of its least height wide: shrunk about the
 * middle by 1e-10 it does not meet them. Needles have no such rim, because shrinking them so would amount to less than
 * rounding does. `neighbors` are the `orientedNeighbors` of `to`.
 */
export function createSheet(to: TriangleTree, neighbors: Int32Array): Cover {
  const { vertices, corners } = to;
  const frame = emptyFrame();
  const { origin, axes } = frame;
  const flat = new Float64Array(6);
  /** Lines along the edges of the triangle: unit inward normal and offset. */
  const sides = new Float64Array(9);
  /** Vertices less than this inside a side count as outside; negative: those less than this outside count as inside. */
  let margin = 0;
  let slack = 0;
  /** Slots, and for each the places of its corners. */
  const queue = new Int32Array(mostFaces);
  const placesOf = new Int32Array(3 * mostFaces);
  /** Vertices in the frame of the triangle: x, y, z, how far inside each side; and bit k for those outside of side k. */
  const places = new Float64Array(6 * (mostFaces + 2));
  const outside = new Uint8Array(mostFaces + 2);
  const seen = new Int32Array(to.size);
  let epoch = 0;
  /** Which way the sheet faces, 1 or −1. */
  let up = 1;
  const stack = polygonStack(5);
  const target = emptyTarget();
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

  /** Carries a vertex of the other surface into the frame, to place `at`. */
  function setPlace(vertex: number, at: number): void {
    const dx = vertices[3 * vertex] - origin[0];
    const dy = vertices[3 * vertex + 1] - origin[1];
    const dz = vertices[3 * vertex + 2] - origin[2];
    const x = axes[0] * dx + axes[1] * dy + axes[2] * dz;
    const y = axes[3] * dx + axes[4] * dy + axes[5] * dz;
    const p = 6 * at;
    places[p] = x;
    places[p + 1] = y;
    places[p + 2] = axes[6] * dx + axes[7] * dy + axes[8] * dz;
    const first = (places[p + 3] = sides[0] * x + sides[1] * y - sides[2]);
    const second = (places[p + 4] = sides[3] * x + sides[4] * y - sides[5]);
    const third = (places[p + 5] = sides[6] * x + sides[7] * y - sides[8]);
    outside[at] = (first < margin ? 1 : 0) | (second < margin ? 2 : 0) | (third < margin ? 4 : 0);
  }

  /** Twice the area seen along the normal of the face with its corners at these places, positive when it faces up. */
  function turnOf(a: number, b: number, c: number): number {
    const x = places[6 * a];
    const y = places[6 * a + 1];
    return (places[6 * b] - x) * (places[6 * c + 1] - y) - (places[6 * b + 1] - y) * (places[6 * c] - x);
  }

  /**
   * Walks from a face to the one that the middle of the triangle lies over, whose corners then are in places 0 … 2.
   * −1 when it does not get there.
   */
  function walk(first: number): number {
    const x = (flat[2] + flat[4]) / 3;
    const y = (flat[3] + flat[5]) / 3;
    let slot = first;
    for (let step = 0; step < mostSteps; step++) {
      setPlace(corners[3 * slot], 0);
      setPlace(corners[3 * slot + 1], 1);
      setPlace(corners[3 * slot + 2], 2);
      const turn = turnOf(0, 1, 2) > 0 ? 1 : -1;
      let across = -1;
      let least = 0;
      for (let k = 0; k < 3; k++) {
        const i = 6 * k;
        const j = k === 2 ? 0 : i + 6;
        const ex = places[j] - places[i];
        const ey = places[j + 1] - places[i + 1];
        const side = turn * (ex * (y - places[i + 1]) - ey * (x - places[i]));
        if (side >= least) continue;
        least = side;
        across = k;
      }
      if (across < 0) return slot;
      slot = neighbors[3 * slot + across];
      if (slot < 0) return -1;
    }
    return -1;
  }

  /** Whether the edge from place i to place j meets the triangle, but for the margin. */
  function edgeMeets(i: number, j: number): boolean {
    const x = places[6 * i];
    const y = places[6 * i + 1];
    const ex = places[6 * j] - x;
    const ey = places[6 * j + 1] - y;
    // The margin times the length, or somewhat more.
    const near = margin * (Math.abs(ex) + Math.abs(ey));
    const a = ex * (flat[1] - y) - ey * (flat[0] - x);
    const b = ex * (flat[3] - y) - ey * (flat[2] - x);
    const c = ex * (flat[5] - y) - ey * (flat[4] - x);
    return !((a > -near && b > -near && c > -near) || (a < near && b < near && c < near));
  }

  /**
   * Bound of the part of the triangle beyond edge k of a face, by its distance from that face; Infinity when it exceeds
   * the threshold or the middle is part of it.
   */
  function boundBeyond(task: CoverTask, slot: number, k: number): number {
    if (!loadTarget(target, frame, to, slot)) return Infinity;
    const { lines } = target;
    const x = (flat[2] + flat[4]) / 3;
    const y = (flat[3] + flat[5]) / 3;
    if (!(lines[3 * k] * x + lines[3 * k + 1] * y > lines[3 * k + 2])) return Infinity;
    stack.points.set(flat, 0);
    stack.corners[0] = 3;
    cut(stack, 0, 1, 4, lines, 3 * k);
    const distance = greatestDistance(target, stack, 4);
    return distance <= threshold(task) ? distance : Infinity;
  }

  /** Bound of the part of the triangle over a face with its corners at these places; Infinity when it does not do. */
  function boundFace(task: CoverTask, slot: number, a: number, b: number, c: number): number {
    if (!(turnOf(a, b, c) * up > 0)) return Infinity;
    const limit = threshold(task);
    const most = Math.max(
      Math.abs(places[6 * a + 2]),
      Math.abs(places[6 * b + 2]),
      Math.abs(places[6 * c + 2]),
    );
    if (most <= limit) return most;
    // The part has its corners on the edges of the face, within the triangle, or where a corner of the triangle is.
    const height = Math.max(edgeHeight(a, b), edgeHeight(b, c), edgeHeight(c, a));
    if (height > limit) return boundPart(task, slot);
    const corner = cornerHeight(a, b, c);
    return corner > limit ? boundPart(task, slot) : Math.max(height, corner);
  }

  /** Greatest height of the edge from place i to place j where it is within the triangle. */
  function edgeHeight(i: number, j: number): number {
    let start = 0;
    let end = 1;
    for (let k = 3; k < 6; k++) {
      const from = places[6 * i + k] + slack;
      const to = places[6 * j + k] + slack;
      if (from < 0) {
        if (to < 0) return 0;
        const t = from / (from - to);
        if (t > start) start = t;
      } else if (to < 0) {
        const t = from / (from - to);
        if (t < end) end = t;
      }
    }
    if (start > end) return 0;
    const z = places[6 * i + 2];
    const rise = places[6 * j + 2] - z;
    return Math.max(Math.abs(z + start * rise), Math.abs(z + end * rise));
  }

  /** Greatest height of a face over those corners of the triangle that it lies over; Infinity where that is not clear. */
  function cornerHeight(a: number, b: number, c: number): number {
    const x = places[6 * a];
    const y = places[6 * a + 1];
    const z = places[6 * a + 2];
    const ux = places[6 * b] - x;
    const uy = places[6 * b + 1] - y;
    const wx = places[6 * c] - x;
    const wy = places[6 * c + 1] - y;
    const turn = ux * wy - uy * wx;
    // A sliver, in which places are known badly.
    if (Math.abs(turn) < 1e-6 * (ux * ux + uy * uy + wx * wx + wy * wy)) return Infinity;
    let most = 0;
    for (let i = 0; i < 6; i += 2) {
      const px = flat[i] - x;
      const py = flat[i + 1] - y;
      // Shares of the corners b and c; wherever rounding leaves it open, the face counts as being there.
      const s = (px * wy - py * wx) / turn;
      const t = (ux * py - uy * px) / turn;
      if (s < -1e-9 || t < -1e-9 || s + t > 1 + 1e-9) continue;
      const height = Math.abs(z + s * (places[6 * b + 2] - z) + t * (places[6 * c + 2] - z));
      if (height > most) most = height;
    }
    return most;
  }

  /** Bound of the part of the triangle over a face; Infinity when it exceeds the threshold, or the face is too steep. */
  function boundPart(task: CoverTask, slot: number): number {
    if (!loadTarget(target, frame, to, slot)) return Infinity;
    stack.points.set(flat, 0);
    stack.corners[0] = 3;
    for (let k = 0; k < 3; k++) if (!cut(stack, k, k + 1, 4, target.lines, 3 * k)) return 0;
    const height = greatestHeight(target, stack, 3);
    if (height <= threshold(task)) return height;
    const distance = greatestDistance(target, stack, 3);
    if (distance <= threshold(task)) return distance;
    measureFarthest(task, slot);
    return distance <= threshold(task) ? distance : Infinity;
  }

  /** Measures that corner of the part which lies farthest from the loaded face. */
  function measureFarthest(task: CoverTask, slot: number): void {
    const { points } = stack;
    let most = -1;
    let at = 0;
    for (let i = 3 * stride, end = i + 2 * stack.corners[3]; i < end; i += 2) {
      const d = distanceToTarget(target, points[i], points[i + 1]);
      if (d <= most) continue;
      most = d;
      at = i;
    }
    measurePoint(task, to, frame, points[at], points[at + 1], slot, hit);
  }

  /** Greatest distance of a corner of the triangle from the nearest of places 0 … 2; Infinity when it exceeds `limit`. */
  function cornerDistance(limit: number): number {
    let most = 0;
    for (let i = 0; i < 6; i += 2) {
      let least = Infinity;
      for (let k = 0; k < 18; k += 6) {
        const dx = places[k] - flat[i];
        const dy = places[k + 1] - flat[i + 1];
        const d = dx * dx + dy * dy + places[k + 2] * places[k + 2];
        if (d < least) least = d;
      }
      if (least > limit * limit) return Infinity;
      if (least > most) most = least;
    }
    return Math.sqrt(most);
  }

  return (task, triangle, first, known) => {
    setFrame(frame, triangle, flat);
    if (!setSides()) return false;
    const size = Math.abs(flat[2]) + Math.abs(flat[3]) + Math.abs(flat[4]) + Math.abs(flat[5]);
    const height = (flat[2] * flat[5] - flat[3] * flat[4]) / size;
    margin = height > leastHeight * size ? 1e-11 * height : -1e-12 * size;
    slack = 1e-12 * size;
    stack.slack[0] = 1e-15 * size;
    const start = walk(first);
    if (start < 0 || ++epoch > 0x7fffffff) return false;
    // Nearly the same triangle, as after a motion that was rounded.
    const apart = cornerDistance(threshold(task));
    if (apart <= threshold(task)) {
      if (apart > task.bounds.high) task.bounds.high = apart;
      return true;
    }
    up = turnOf(0, 1, 2) > 0 ? 1 : -1;
    queue[0] = start;
    placesOf[0] = 0;
    placesOf[1] = 1;
    placesOf[2] = 2;
    seen[start] = epoch;
    let high = boundFace(task, start, 0, 1, 2);
    let faces = 1;
    let used = 3;
    for (let next = 0; next < faces; next++) {
      if (high === Infinity) return false;
      task.work--;
      const slot = queue[next];
      for (let k = 0; k < 3; k++) {
        const i = placesOf[3 * next + k];
        const j = placesOf[3 * next + (k === 2 ? 0 : k + 1)];
        if ((outside[i] & outside[j]) !== 0) continue;
        const neighbor = neighbors[3 * slot + k];
        if (neighbor >= 0 && seen[neighbor] === epoch) continue;
        if (!edgeMeets(i, j)) continue;
        let bound = Infinity;
        if (neighbor >= 0 && seen[neighbor] !== -epoch) {
          if (faces === mostFaces) return false;
          // The neighbor runs along the edge the other way round; its third corner is new.
          const end = corners[3 * slot + (k === 2 ? 0 : k + 1)];
          const r = corners[3 * neighbor] === end ? 0 : corners[3 * neighbor + 1] === end ? 1 : 2;
          const third = r === 0 ? 2 : r - 1;
          setPlace(corners[3 * neighbor + third], used);
          bound = boundFace(task, neighbor, j, i, used);
          if (bound < Infinity) {
            queue[faces] = neighbor;
            placesOf[3 * faces + r] = j;
            placesOf[3 * faces + (r === 2 ? 0 : r + 1)] = i;
            placesOf[3 * faces + third] = used++;
            faces++;
          }
          seen[neighbor] = bound < Infinity ? epoch : -epoch;
        }
        if (bound === Infinity) bound = boundBeyond(task, slot, k);
        if (bound > high) high = bound;
      }
    }
    if (high === Infinity) return false;
    task.bounds.high = Math.max(task.bounds.high, Math.min(high, known));
    return true;
  };
}
