import type { Mesh } from '../types.ts';
import { dot, frameOf } from './frame.ts';
import type { RoundRegion } from './round-region.ts';

/** A round region unrolled about its axis. Heights are along the axis from the cylinder's point, mm. */
export interface RoundProfile {
  /** Share of the full turn covered, 0…1. */
  readonly turn: number;
  /** Middle of the covered arc, radians in the frame of the axis; meaningful when turn < 1. */
  readonly middle: number;
  /** Mean height of the lower and upper end over the covered directions. */
  readonly low: number;
  readonly high: number;
  /** Height range of each end. */
  readonly lowRange: readonly [number, number];
  readonly highRange: readonly [number, number];
  /** Smallest distance of the faces from the axis. */
  readonly inscribed: number;
}

/** Directions in which the ends are looked at; odd and prime, so that they fall in step with no tessellation. */
const directions = 181;

/** `null` when the faces cover nothing (all without area). */
export function roundProfile(mesh: Mesh, region: RoundRegion): RoundProfile | null {
  const { positions: p, triangles: t } = mesh;
  const { axis, point } = region.cylinder;
  const { u, v } = frameOf(axis);
  const low = new Float64Array(directions).fill(Infinity);
  const high = new Float64Array(directions).fill(-Infinity);
  const spans = new Float64Array(2 * region.faces.length);
  const x = new Float64Array(3);
  const y = new Float64Array(3);
  const h = new Float64Array(3);
  let inscribed = Infinity;
  region.faces.forEach((face, i) => {
    for (let k = 0; k < 3; k++) {
      const at = 3 * t[3 * face + k];
      const d = [p[at] - point[0], p[at + 1] - point[1], p[at + 2] - point[2]] as const;
      x[k] = dot(d, u);
      y[k] = dot(d, v);
      h[k] = dot(d, axis);
    }
    inscribed = Math.min(inscribed, distanceToTriangle(x, y));
    // Angles relative to the first corner: a face spans less than half a turn.
    const first = Math.atan2(y[0], x[0]);
    let from = 0;
    let to = 0;
    for (let k = 1; k < 3; k++) {
      const turned = Math.atan2(x[0] * y[k] - y[0] * x[k], x[0] * x[k] + y[0] * y[k]);
      from = Math.min(from, turned);
      to = Math.max(to, turned);
    }
    spans[2 * i] = first + from;
    spans[2 * i + 1] = first + to;
    const step = (2 * Math.PI) / directions;
    for (let j = Math.ceil((first + from) / step); j * step <= first + to; j++) {
      const slot = ((j % directions) + directions) % directions;
      const c = Math.cos(j * step);
      const s = Math.sin(j * step);
      for (let k = 0; k < 3; k++) {
        const m = (k + 1) % 3;
        const a = c * y[k] - s * x[k];
        const b = c * y[m] - s * x[m];
        if (a === b || a * b > 0) continue;
        const height = h[k] + (a / (a - b)) * (h[m] - h[k]);
        if (height < low[slot]) low[slot] = height;
        if (height > high[slot]) high[slot] = height;
      }
    }
  });
  const seen = Array.from(low.keys()).filter(j => low[j] <= high[j]);
  if (seen.length === 0 || !Number.isFinite(inscribed)) return null;
  const lows = seen.map(j => low[j]);
  const highs = seen.map(j => high[j]);
  return {
    ...coverage(spans),
    low: mean(lows),
    high: mean(highs),
    lowRange: [Math.min(...lows), Math.max(...lows)],
    highRange: [Math.min(...highs), Math.max(...highs)],
    inscribed,
  };
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** Distance of the origin from a triangle in the plane whose inside does not hold the origin. */
function distanceToTriangle(x: Float64Array, y: Float64Array): number {
  let nearest = Infinity;
  for (let k = 0; k < 3; k++) {
    const m = (k + 1) % 3;
    const dx = x[m] - x[k];
    const dy = y[m] - y[k];
    const length = dx * dx + dy * dy;
    const s = length > 0 ? Math.min(1, Math.max(0, -(x[k] * dx + y[k] * dy) / length)) : 0;
    nearest = Math.min(nearest, Math.hypot(x[k] + s * dx, y[k] + s * dy));
  }
  return nearest;
}

/** Union of angular intervals (from, to pairs) on the circle. */
function coverage(spans: Float64Array): { turn: number; middle: number } {
  const full = 2 * Math.PI;
  const pieces: [number, number][] = [];
  for (let i = 0; i < spans.length; i += 2) {
    const width = spans[i + 1] - spans[i];
    const from = ((spans[i] % full) + full) % full;
    pieces.push([from, Math.min(from + width, full)]);
    if (from + width > full) pieces.push([0, from + width - full]);
  }
  pieces.sort((a, b) => a[0] - b[0]);
  let covered = 0;
  let end = 0;
  let widestGap = 0;
  let gapMiddle = 0;
  let firstStart = full;
  for (const [from, to] of pieces) {
    firstStart = Math.min(firstStart, from);
    if (from - end > widestGap && covered > 0) {
      widestGap = from - end;
      gapMiddle = (from + end) / 2;
    }
    if (to > end) {
      covered += to - Math.max(from, end);
      end = to;
    }
  }
  // The gap across the start of the count.
  if (full - end + firstStart > widestGap) gapMiddle = (end + full + firstStart) / 2;
  const turn = covered / full;
  return { turn: turn > 1 - 1e-4 ? 1 : turn, middle: gapMiddle + Math.PI };
}
