import { closestHit, closestPoint, type TriangleTree } from '@kinprint/mesh';
import { noBounds, raiseLow, type DistanceBounds } from './bounds.ts';
import type { Cover, CoverTask } from './cover-task.ts';
import { emptyDistribution, type Distribution } from './distribution.ts';
import {
  addPiece,
  addUnsampled,
  createIntegrator,
  sampleWeight,
  spreadPlace,
  type Fineness,
  type Sums,
} from './integrate.ts';
import type { VertexDistances } from './vertex-distances.ts';
import { createWhole } from './whole-triangle.ts';

/** One surface to be measured against another: plain data that threads can share. */
export interface DeviationTask {
  readonly from: TriangleTree;
  readonly to: TriangleTree;
  /** `orientedNeighbors` of `to`. */
  readonly neighbors: Int32Array;
  /** Per slot of `from`: 1 for a face that the other surface has too. */
  readonly skip: Uint8Array;
  /** Distances of all vertices of faces not skipped. */
  readonly atVertices: VertexDistances;
  /** The greatest distance known when the ranges start; −1 for none. */
  readonly low: number;
  readonly tolerance_mm: number;
  /** Error of the maximum that is aimed at. */
  readonly epsilon_mm: number;
  readonly fineness: Fineness;
  /** Measurements allowed for refining the integrals, and pieces for bounding the maximum. */
  readonly budget: { readonly integral: number; readonly pieces: number };
}

/** What one range found. */
export interface DeviationPart {
  readonly bounds: DistanceBounds;
  readonly area: number;
  readonly distance: number;
  readonly distanceSq: number;
  readonly distribution: Distribution;
  /** True when the work allowed did not suffice to bound the maximum as closely as asked. */
  readonly exhausted: boolean;
}

/**
 * Measures the slots `start`…`end` of `task.from`. Writes to `changed` (per slot) 1 for every face that deviates by
 * more than the tolerance somewhere or could not be proven to lie within it, 0 for the others.
 *
 * Ranges are independent of each other, so that several threads may each take some; `mergeParts` adds them up. The
 * sums and the upper bound hold whatever the division; which of several nearly equal distances is named as the
 * greatest, and by how much the bound exceeds it, may depend on it.
 */
export function deviationRange(
  task: DeviationTask,
  start: number,
  end: number,
  changed: Uint8Array,
): DeviationPart {
  const { from, to, skip, atVertices, tolerance_mm: tolerance, epsilon_mm: epsilon, fineness } = task;
  const { vertices: v, corners } = from;
  const { distance, near } = atVertices;
  const bounds = noBounds();
  bounds.low = task.low;
  const sums: Sums = { area: 0, distance: 0, distanceSq: 0, distribution: emptyDistribution() };
  const whole = createWhole(to, task.neighbors);
  const work: CoverTask = { bounds, epsilon, tolerance, changed: false, work: 0 };
  let left = task.budget.pieces;
  const hard: number[] = [];
  const budget = { left: task.budget.integral };
  const hit = closestHit();
  const integrate = createIntegrator(to, fineness, sums, bounds, budget);
  const triangle = new Float64Array(9);
  const piece = new Float64Array(12);
  const place = new Float64Array(3);
  for (let slot = start; slot < end; slot++) {
    const i = corners[3 * slot];
    const j = corners[3 * slot + 1];
    const k = corners[3 * slot + 2];
    const ax = v[3 * i];
    const ay = v[3 * i + 1];
    const az = v[3 * i + 2];
    const bx = v[3 * j];
    const by = v[3 * j + 1];
    const bz = v[3 * j + 2];
    const cx = v[3 * k];
    const cy = v[3 * k + 1];
    const cz = v[3 * k + 2];
    const nx = (by - ay) * (cz - az) - (bz - az) * (cy - ay);
    const ny = (bz - az) * (cx - ax) - (bx - ax) * (cz - az);
    const nz = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
    const area = Math.sqrt(nx * nx + ny * ny + nz * nz) / 2;
    if (skip[slot] === 1) {
      sums.area += area;
      sums.distribution[0] += area;
      changed[slot] = 0;
      continue;
    }
    const d0 = distance[i];
    const d1 = distance[j];
    const d2 = distance[k];
    let greatest = Math.max(d0, d1, d2);
    let nearest = slotNear(task, i);
    // The distance from one convex face is greatest at a corner.
    let known = near[i] === near[j] && near[i] === near[k] ? greatest : Infinity;
    const weight = sampleWeight(slot, area, fineness.finest_mm2);
    if (weight === 0) {
      addUnsampled(sums, area, d0, d1, d2);
    } else {
      spreadPlace(slot, place);
      const [r, s, t] = place;
      const mx = r * ax + s * bx + t * cx;
      const my = r * ay + s * by + t * cy;
      const mz = r * az + s * bz + t * cz;
      closestPoint(to, mx, my, mz, hit, Infinity, near[r > s && r > t ? i : s > t ? j : k]);
      const inner = Math.sqrt(hit.distanceSq);
      nearest = hit.slot;
      raiseLow(bounds, inner, mx, my, mz);
      greatest = Math.max(greatest, inner);
      if (area > fineness.finest_mm2) {
        corner(piece, 0, ax, ay, az, d0);
        corner(piece, 4, bx, by, bz, d1);
        corner(piece, 8, cx, cy, cz, d2);
        greatest = Math.max(greatest, integrate(piece, hit));
      } else {
        addPiece(sums, area, weight, d0, d1, d2, inner, r * d0 + s * d1 + t * d2);
      }
    }
    work.changed = greatest > tolerance;
    if (known === Infinity) {
      // No point lies farther from the corner than the longer edge; the distance changes by no more than the way.
      const ab = (bx - ax) ** 2 + (by - ay) ** 2 + (bz - az) ** 2;
      const bc = (cx - bx) ** 2 + (cy - by) ** 2 + (cz - bz) ** 2;
      const ca = (ax - cx) ** 2 + (ay - cy) ** 2 + (az - cz) ** 2;
      known = Math.min(
        d0 + Math.sqrt(Math.max(ab, ca)),
        d1 + Math.sqrt(Math.max(ab, bc)),
        d2 + Math.sqrt(Math.max(bc, ca)),
      );
    }
    if (known <= (work.changed ? bounds.low : Math.min(tolerance, bounds.low))) {
      if (known > bounds.high) bounds.high = known;
    } else {
      setTriangle(from, slot, triangle);
      // A fair share of the work that is left, so that hard triangles do not starve the rest.
      const share = 64 + (4 * left) / (end - slot);
      work.epsilon = epsilon;
      work.work = share;
      if (!whole.quick(work, triangle, nearest, known)) hard.push(slot);
      left -= share - work.work;
    }
    changed[slot] = work.changed ? 1 : 0;
  }
  // The hard ones have as much again, to be taken apart.
  left = task.budget.pieces;
  let exhausted = false;
  for (let n = 0; n < hard.length; n++) {
    const slot = hard[n];
    setTriangle(from, slot, triangle);
    const i = corners[3 * slot];
    work.changed = changed[slot] === 1;
    work.epsilon = epsilon;
    const share = 64 + Math.max(0, Math.floor(left / (hard.length - n)));
    left -= boundHard(
      whole.thorough,
      work,
      triangle,
      slotNear(task, i),
      distance[i] + reachOf(triangle),
      share,
    );
    if (work.epsilon > epsilon) exhausted = true;
    changed[slot] = work.changed ? 1 : 0;
  }
  return { bounds, ...sums, exhausted };
}

/** The slot nearest to a vertex; any one when the distance is too great to be told. */
function slotNear({ to, atVertices }: DeviationTask, vertex: number): number {
  const face = atVertices.near[vertex];
  return face < 0 ? 0 : to.slotOf[face];
}

function setTriangle(tree: TriangleTree, slot: number, out: Float64Array): void {
  const { vertices, corners } = tree;
  for (let k = 0; k < 3; k++) {
    const vertex = 3 * corners[3 * slot + k];
    out[3 * k] = vertices[vertex];
    out[3 * k + 1] = vertices[vertex + 1];
    out[3 * k + 2] = vertices[vertex + 2];
  }
}

/** The way from the first corner of a triangle to the farther of the others. */
function reachOf(t: Float64Array): number {
  return Math.sqrt(
    Math.max(
      (t[3] - t[0]) ** 2 + (t[4] - t[1]) ** 2 + (t[5] - t[2]) ** 2,
      (t[6] - t[0]) ** 2 + (t[7] - t[1]) ** 2 + (t[8] - t[2]) ** 2,
    ),
  );
}

function corner(piece: Float64Array, at: number, x: number, y: number, z: number, distance: number): void {
  piece[at] = x;
  piece[at + 1] = y;
  piece[at + 2] = z;
  piece[at + 3] = distance;
}

/**
 * Bounds one triangle within `share` pieces; when they do not suffice, again with an error eight times as large, until
 * they do. Returns the pieces used; `work.epsilon` is the error reached.
 */
function boundHard(
  thorough: Cover,
  work: CoverTask,
  triangle: Float64Array,
  nearest: number,
  known: number,
  share: number,
): number {
  let used = 0;
  for (; ; work.epsilon *= 8) {
    work.work = share;
    const done = thorough(work, triangle, nearest, known);
    used += share - work.work;
    if (done) return used;
    // Not proven to lie within the tolerance.
    work.changed = true;
    if (known <= work.bounds.low + 8 * work.epsilon) {
      work.epsilon *= 8;
      work.bounds.high = Math.max(work.bounds.high, known);
      return used;
    }
  }
}

/** What two ranges found together. */
export function mergeParts(a: DeviationPart, b: DeviationPart): DeviationPart {
  const best = b.bounds.low > a.bounds.low ? b.bounds : a.bounds;
  return {
    bounds: { ...best, high: Math.max(a.bounds.high, b.bounds.high) },
    area: a.area + b.area,
    distance: a.distance + b.distance,
    distanceSq: a.distanceSq + b.distanceSq,
    distribution: a.distribution.map((area, bin) => area + b.distribution[bin]),
    exhausted: a.exhausted || b.exhausted,
  };
}
