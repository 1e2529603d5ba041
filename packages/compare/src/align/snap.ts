import type { Vec3 } from '@kinprint/mesh';
import { asGood, type Chosen } from './closest-motion.ts';
import { placementParts } from './describe.ts';
import { matchedShares, type Matched } from './matched.ts';
import type { Pair } from './pair.ts';
import { applyPlacement, multiply3, placementThrough, type Placement } from './placement.ts';
import { axisRotations, reflections } from './rotation.ts';

/**
 * Takes the noise out of a placement: a rotation that is one of the 24 that take axes to axes but for rounding
 * becomes exactly that, a factor of few digits becomes that number, a shift becomes the median of the shifts of
 * like vertices, and no shift at all when it is below rounding. Kept only when nothing is lost.
 */
export function snapPlacement(pair: Pair, found: Chosen): Chosen {
  const { center, diagonal } = pair.before.surface;
  const parts = placementParts(found.placement);
  const angleNoise = (4 * Math.max(pair.floor, 0.1 * pair.tolerance)) / diagonal;
  const scale = parts.scale.map(s => shortNumber(s, angleNoise));
  const turn =
    axisRotations.find(r => r.every((v, k) => Math.abs(v - parts.rotation[k]) < angleNoise)) ??
    parts.rotation;
  let linear = multiply3(turn, [scale[0], 0, 0, 0, scale[1], 0, 0, 0, scale[2]]);
  if (parts.reflection !== null) linear = multiply3(linear, reflections[parts.reflection]);
  const rough = placementThrough(linear, center, applyPlacement(found.placement, center));
  const shift = vertexShift(pair, rough, found.matched);
  const options: Placement[] = [];
  if (shift !== null) options.push(withShift(rough, shift));
  options.push(rough);
  const none = options.find(
    m => Math.hypot(m[3], m[7], m[11]) < 2 * Math.max(pair.floor, 0.1 * pair.tolerance),
  );
  if (none !== undefined) options.unshift(withShift(rough, [0, 0, 0]));
  for (const placement of options) {
    if (placement.every((v, k) => v === found.placement[k])) return found;
    const matched = matchedShares(pair, placement);
    if (asGood(matched, found.matched)) return { placement, matched };
  }
  return found;
}

/** The number itself, or the one of at most five digits that lies within the relative noise of it. */
function shortNumber(s: number, noise: number): number {
  for (let digits = 1; digits <= 5; digits += 1) {
    const short = Number(s.toPrecision(digits));
    if (Math.abs(short - s) <= noise * s) return short;
  }
  return s;
}

function withShift(m: Placement, shift: Vec3): Placement {
  const out = Float64Array.from(m);
  [out[3], out[7], out[11]] = shift;
  return out;
}

/** Median over the like vertices of where AFTER has them less where the linear part brings them. */
function vertexShift(pair: Pair, m: Placement, { triangles }: Matched): Vec3 | null {
  const a = pair.before.surface.mesh.positions;
  const b = pair.after.surface.mesh.positions;
  const { vertexToAfter } = triangles;
  const step = Math.max(1, Math.floor(vertexToAfter.length / 20_000));
  const shifts: number[][] = [[], [], []];
  for (let v = 0; v < vertexToAfter.length; v += step) {
    const w = vertexToAfter[v];
    if (w < 0) continue;
    for (let r = 0; r < 3; r += 1) {
      const turned = m[4 * r] * a[3 * v] + m[4 * r + 1] * a[3 * v + 1] + m[4 * r + 2] * a[3 * v + 2];
      shifts[r].push(b[3 * w + r] - turned);
    }
  }
  if (shifts[0].length < 4) return null;
  const median = (list: number[]): number => {
    const sorted = Float64Array.from(list).sort();
    const half = sorted.length >> 1;
    return sorted.length % 2 === 1 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2;
  };
  return [median(shifts[0]), median(shifts[1]), median(shifts[2])];
}
