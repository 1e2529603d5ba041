import type { Vec3 } from '@kinprint/mesh';
import type { Pair } from './pair.ts';
import {
  applyPlacement,
  determinantOf,
  linearOf,
  multiply3,
  placementThrough,
  transpose3,
  type Placement,
} from './placement.ts';
import { axesOf } from './principal-motions.ts';
import { axisRotations, reflections, smallestRotation } from './rotation.ts';
import { triangleClasses } from './triangle-classes.ts';
import { classMotions } from './triangle-motions.ts';

/** Spreads that differ by less than this make an axis of rotation likely. */
const ROUND = 0.02;
const CLASS_LIMIT = 512;

/**
 * Other placements that a symmetric part may allow as well as `m`: those that turn nothing, those that take axes to
 * axes, the smallest rotation of a round part's axis, `m` after any turn or reflection of BEFORE's principal
 * frame, and all that carry one rare triangle onto its like.
 */
export function symmetricAlternatives(pair: Pair, m: Placement): Placement[] {
  const before = pair.before.surface;
  const after = pair.after.surface;
  const scale = Math.cbrt(Math.abs(determinantOf(m)));
  const times = (l: readonly number[]): number[] => l.map(v => v * scale);
  const out: Placement[] = [];
  const anchors: [Vec3, Vec3][] = [
    [before.center, after.center],
    [before.centroid, after.centroid],
    [before.centroid, applyPlacement(m, before.centroid)],
  ];
  const turns: (readonly number[])[] = [...axisRotations];
  const from = axesOf(before);
  const to = axesOf(after);
  const axisOf = (values: readonly number[]): number =>
    Math.abs(values[0] - values[1]) < ROUND * values[0]
      ? 2
      : Math.abs(values[1] - values[2]) < ROUND * values[0]
        ? 0
        : -1;
  const k = axisOf(from.values);
  if (k >= 0 && axisOf(to.values) === k) {
    const a: Vec3 = [from.axes[3 * k], from.axes[3 * k + 1], from.axes[3 * k + 2]];
    const b: Vec3 = [to.axes[3 * k], to.axes[3 * k + 1], to.axes[3 * k + 2]];
    turns.push(smallestRotation(a, b), smallestRotation(a, [-b[0], -b[1], -b[2]]));
  }
  for (const turn of turns) for (const [p, q] of anchors) out.push(placementThrough(times(turn), p, q));
  const back = transpose3(from.axes);
  const image = applyPlacement(m, before.centroid);
  for (const turn of axisRotations) {
    for (const hand of [null, reflections[3]]) {
      const inFrame = hand === null ? turn : multiply3(turn, hand);
      const symmetry = multiply3(back, multiply3(inFrame, from.axes));
      out.push(placementThrough(multiply3(linearOf(m), symmetry), before.centroid, image));
    }
  }
  out.push(...rareTriangles(pair, scale));
  return out;
}

/** Every placement that carries a face of the rarest class onto a like one: all symmetries of an untouched part are among them. */
function rareTriangles(pair: Pair, scale: number): Placement[] {
  const before = pair.before.surface;
  const after = pair.after.surface;
  const quantum = Math.max(64 * pair.floor, 4e-6 * after.diagonal);
  const classes = triangleClasses(before, after, scale, quantum);
  classes.sort((p, q) => p.pairs - q.pairs || q.area - p.area || p.before[0] - q.before[0]);
  return classes.slice(0, 3).flatMap(c => {
    const one = { ...c, before: c.before.slice(0, 1) };
    return classMotions(before, after, one, scale, 3 * quantum, CLASS_LIMIT).map(
      ({ placement }) => placement,
    );
  });
}
