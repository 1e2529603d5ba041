import type { InterferenceRegion } from '@kinprint/solid';
import { across, dot, minus } from '../check/rules/vector.ts';
import type { Axis } from './axes.ts';
import type { Instance } from './instances.ts';
import type { JudgedMate } from './judge-mates.ts';

/**
 * Whether all regions of an interference lie in a bore of one part that the other is pressed or threaded into, as
 * declared. What reaches beyond the bore and its pin is no press fit.
 */
export function isIntended(
  one: Instance,
  two: Instance,
  regions: readonly InterferenceRegion[],
  mates: readonly JudgedMate[],
): boolean {
  const seats = mates.flatMap(({ declared, mate, bores }): Seat[] => {
    const { takes } = declared;
    if (declared.seat.face.kind !== 'bore' || takes.kind !== 'pin' || !pressed(declared.clearance)) return [];
    const width = Math.max(
      mate.seat.measured_mm ?? 0,
      mate.takes.kind === 'pin' ? (mate.takes.measured_mm ?? 0) : 0,
    );
    const [inside, outside] = [takes.at.partIndex, declared.seat.partIndex];
    const here = bores.filter(
      ({ instance }) =>
        (instance.name === one.name && two.index === inside) ||
        (instance.name === two.name && one.index === inside),
    );
    return outside === inside ? [] : here.map(({ feature }) => ({ axis: feature, width_mm: width }));
  });
  return regions.every(region => seats.some(seat => liesIn(region, seat)));
}

interface Seat {
  readonly axis: Axis;
  readonly width_mm: number;
}

/** Classes that ask for interference, or are mostly printed with some, and threads cut by what is driven in. */
function pressed(of: JudgedMate['declared']['clearance']): boolean {
  return of === 'press' || of === 'thread' || of?.endsWith('/p6') === true;
}

/** Slack for facets and for the ends of a bore that was measured by its walls alone. */
const slack_mm = 0.5;

function liesIn(
  { bounds_mm: { min, max }, centroid_mm }: InterferenceRegion,
  { axis, width_mm }: Seat,
): boolean {
  const from = minus(centroid_mm, axis.at);
  if (across(from, axis.direction) > width_mm / 2) return false;
  if (Math.abs(dot(from, axis.direction)) > axis.length_mm / 2 + slack_mm) return false;
  const [w, h, d] = minus(max, min);
  // The box of what is around a slanted axis is wide; its volume's extent is no larger than that of the seat.
  return Math.hypot(w, h, d) <= Math.hypot(width_mm, width_mm, axis.length_mm) + 2 * slack_mm;
}
