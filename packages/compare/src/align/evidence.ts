import { closestHit, closestPoint } from '@kinprint/mesh';
import { compareDefaults } from '../defaults.ts';
import { symmetricEigen } from './eigen.ts';
import type { Pair, Shape } from './pair.ts';
import { determinantOf, invertPlacement, type Placement } from './placement.ts';

/** What speaks for one shape having been made from the other. */
export interface Evidence {
  /** Share of each surface within the distance asked for, by samples. */
  readonly before: number;
  readonly after: number;
  /**
   * How fully the coinciding parts hold the shapes in their weakest direction, as a share of what the whole
   * surfaces would: 0 when only parallel planes coincide.
   */
  readonly hold: number;
}

export function gatherEvidence(pair: Pair, m: Placement, within: number, count: number): Evidence {
  const scale = Math.cbrt(Math.abs(determinantOf(m)));
  const a = oneSide(pair.before, pair.after, m, within, count);
  const b = oneSide(pair.after, pair.before, invertPlacement(m), within / scale, count);
  return { before: a.share, after: b.share, hold: Math.min(a.hold, b.hold) };
}

/**
 * Whether the evidence makes one shape the other's kin. Two flat parts of one thickness always share two planes,
 * so a share of the area alone proves nothing: the shared part must hold the shape in every direction.
 */
export function isKin(tight: Evidence, loose: Evidence): boolean {
  const d = compareDefaults;
  const same = Math.min(tight.before, tight.after);
  if (same >= d.kinTightShare && tight.hold >= d.kinHold) return true;
  return Math.min(loose.before, loose.after) >= d.kinLooseShare && loose.hold >= d.kinLooseHold;
}

const evidenceHit = closestHit();

function oneSide(
  from: Shape,
  to: Shape,
  m: Placement,
  within: number,
  count: number,
): { share: number; hold: number } {
  const { points, normals, areaWeight } = from.samples;
  const n = Math.min(count, from.samples.count);
  const withinSq = within * within * (1 + 1e-9);
  let total = 0;
  let matched = 0;
  const all = new Float64Array(9);
  const held = new Float64Array(9);
  for (let k = 0; k < n; k += 1) {
    const w = areaWeight[k];
    total += w;
    const x = points[3 * k];
    const y = points[3 * k + 1];
    const z = points[3 * k + 2];
    closestPoint(
      to.tree,
      m[0] * x + m[1] * y + m[2] * z + m[3],
      m[4] * x + m[5] * y + m[6] * z + m[7],
      m[8] * x + m[9] * y + m[10] * z + m[11],
      evidenceHit,
      withinSq,
    );
    const hit = evidenceHit.face >= 0;
    if (hit) matched += w;
    for (let i = 0; i < 3; i += 1) {
      for (let j = 0; j < 3; j += 1) {
        const entry = w * normals[3 * k + i] * normals[3 * k + j];
        all[3 * i + j] += entry;
        if (hit) held[3 * i + j] += entry;
      }
    }
  }
  const whole = symmetricEigen(all, 3).values[2];
  const part = symmetricEigen(held, 3).values[2];
  return {
    share: total > 0 ? matched / total : 0,
    hold: whole > 1e-12 * total ? part / whole : matched > 0 ? 1 : 0,
  };
}
