import type { Vec3 } from '@kinprint/mesh';
import { compareDefaults } from '../defaults.ts';
import { placementParts } from './describe.ts';
import type { Pair } from './pair.ts';
import { multiply3, placementThrough, transpose3, type Placement } from './placement.ts';
import { axisRotations, reflections } from './rotation.ts';
import { fineRuler, scorePlacement } from './score.ts';
import type { Surface } from './surface.ts';

/** A stretched part is only told from a redesigned one by fitting whole: nearly every sample must. */
const WHOLE = 0.97;

/**
 * Placements that scale each of BEFORE's axes by its own factor, so that the bounds agree, and fit the whole
 * shape. Turns tried: those of the placements already found, and all that take axes to axes.
 */
export function axisScaleCandidates(pair: Pair, found: readonly Placement[]): Placement[] {
  const turns: (readonly number[])[] = [...axisRotations];
  for (const m of found) turns.push(placementParts(m).rotation);
  const out: Placement[] = [];
  for (const turn of turns) {
    for (const flip of [null, ...reflections.slice(0, 1)]) {
      const m = stretch(pair.before.surface, pair.after.surface, turn, flip);
      if (m === null) continue;
      const ruler = fineRuler(pair);
      if (scorePlacement(pair, m, ruler, compareDefaults.alignFirstSamples, WHOLE).complete) out.push(m);
    }
  }
  return out;
}

/** `turn · diag(s) · flip` with the factors and the shift that make BEFORE's bounds fill AFTER's, seen turned back. */
function stretch(
  before: Surface,
  after: Surface,
  turn: readonly number[],
  flip: readonly number[] | null,
): Placement | null {
  const back = transpose3(turn);
  const { min, max } = boundsUnder(after, back);
  const s = [0, 1, 2].map(k => {
    const size = before.max[k] - before.min[k];
    return size > 1e-9 * before.diagonal ? (max[k] - min[k]) / size : 1;
  });
  if (s.some(f => !(f > 0.1 && f < 10))) return null;
  let linear = [s[0], 0, 0, 0, s[1], 0, 0, 0, s[2]];
  if (flip !== null) linear = multiply3(linear, flip);
  const middle: Vec3 = [(min[0] + max[0]) / 2, (min[1] + max[1]) / 2, (min[2] + max[2]) / 2];
  const to: Vec3 = [
    turn[0] * middle[0] + turn[1] * middle[1] + turn[2] * middle[2],
    turn[3] * middle[0] + turn[4] * middle[1] + turn[5] * middle[2],
    turn[6] * middle[0] + turn[7] * middle[1] + turn[8] * middle[2],
  ];
  return placementThrough(multiply3(turn, linear), before.center, to);
}

function boundsUnder({ mesh, min, max }: Surface, l: readonly number[]): { min: number[]; max: number[] } {
  const axisAligned = l.every(v => v === 0 || Math.abs(v) === 1);
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  const take = (x: number, y: number, z: number): void => {
    for (let r = 0; r < 3; r += 1) {
      const v = l[3 * r] * x + l[3 * r + 1] * y + l[3 * r + 2] * z;
      if (v < low[r]) low[r] = v;
      if (v > high[r]) high[r] = v;
    }
  };
  if (axisAligned) {
    take(...min);
    take(...max);
  } else {
    const { positions: p, triangles: t } = mesh;
    for (let k = 0; k < t.length; k += 1) take(p[3 * t[k]], p[3 * t[k] + 1], p[3 * t[k] + 2]);
  }
  return { min: low, max: high };
}
