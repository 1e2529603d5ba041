import type { Vec3 } from '@kinprint/mesh';
import { symmetricEigen } from './eigen.ts';
import type { Candidate } from './candidates.ts';
import { multiply3, placementThrough } from './placement.ts';
import { axisRotations, cross, frameToFrame, rotationOf } from './rotation.ts';
import type { Surface } from './surface.ts';

/** Two principal spreads closer than this ratio leave the turn about the third axis open. */
const DISTINCT = 0.8;
const STEP = Math.PI / 12;
const GRID = 72;

/**
 * First guesses from the surfaces' principal axes about their centroids, for shapes without flat patches. Every
 * assignment of axes and signs is tried, both hands; where two spreads are alike the open turn is stepped through
 * by 15°, where all three are, rotations are spread evenly. Guesses only: a rework shifts the axes by degrees.
 */
export function principalMotions(before: Surface, after: Surface, scale: number): Candidate[] {
  const from = axesOf(before);
  const to = axesOf(after);
  const [a, b, c] = to.values.map((v, k) => 0.5 * (v / to.values[0] + from.values[k] / from.values[0]));
  const flips = axisRotations.filter(r => Math.abs(r[0]) + Math.abs(r[4]) + Math.abs(r[8]) === 3);
  let turns: number[][];
  if (c / a > DISTINCT) turns = [...axisRotations.map(r => [...r]), ...evenRotations(GRID)];
  else if (b / a > DISTINCT) turns = combine(flips, stepped([0, 0, 1]));
  else if (c / b > DISTINCT) turns = combine(flips, stepped([1, 0, 0]));
  else turns = flips.map(r => [...r]);
  const out: Candidate[] = [];
  for (const turn of turns) {
    for (const hand of [1, -1]) {
      const turned = multiply3(turn, from.axes).map((v, i) => (i > 5 ? v * hand : v));
      const linear = frameToFrame(turned, to.axes).map(v => v * scale);
      out.push({ placement: placementThrough(linear, before.centroid, after.centroid), votes: 0 });
    }
  }
  return out;
}

/** Spreads (descending) and a right-handed frame of principal axes as rows. */
export function axesOf(surface: Surface): { values: number[]; axes: number[] } {
  const { values, vectors } = symmetricEigen(surface.spread, 3);
  const x: Vec3 = [vectors[0][0], vectors[0][1], vectors[0][2]];
  const y: Vec3 = [vectors[1][0], vectors[1][1], vectors[1][2]];
  return { values, axes: [...x, ...y, ...cross(x, y)] };
}

function stepped(axis: Vec3): number[][] {
  const out: number[][] = [];
  for (let angle = 0; angle < 2 * Math.PI - 1e-9; angle += STEP) {
    out.push(rotationOf([axis[0] * angle, axis[1] * angle, axis[2] * angle]));
  }
  return out;
}

function combine(flips: readonly (readonly number[])[], turns: readonly number[][]): number[][] {
  // Half of the flips repeat turns already there when a whole circle is stepped through; harmless.
  return flips.flatMap(flip => turns.map(turn => multiply3(turn, flip)));
}

/** Rotations spread evenly: the spiral on the 3-sphere of Alexa, 'Super-Fibonacci Spirals', CVPR 2022. */
function evenRotations(count: number): number[][] {
  const phi = Math.SQRT2;
  const psi = 1.533751168755204;
  return Array.from({ length: count }, (_, k) => {
    const s = k + 0.5;
    const r = Math.sqrt(s / count);
    const R = Math.sqrt(1 - s / count);
    const alpha = (2 * Math.PI * s) / phi;
    const beta = (2 * Math.PI * s) / psi;
    return fromQuaternion(r * Math.sin(alpha), r * Math.cos(alpha), R * Math.sin(beta), R * Math.cos(beta));
  });
}

function fromQuaternion(x: number, y: number, z: number, w: number): number[] {
  return [
    1 - 2 * (y * y + z * z),
    2 * (x * y - z * w),
    2 * (x * z + y * w),
    2 * (x * y + z * w),
    1 - 2 * (x * x + z * z),
    2 * (y * z - x * w),
    2 * (x * z - y * w),
    2 * (y * z + x * w),
    1 - 2 * (x * x + y * y),
  ];
}
