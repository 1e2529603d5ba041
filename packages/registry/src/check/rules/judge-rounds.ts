import type { Interface } from '@kinprint/manifest';
import type { Bore, Pin, Vec3 } from '@kinprint/mesh';
import { checkDefaults } from '../defaults.ts';
import { assignSizes } from './assign-sizes.ts';
import type { Measured, Verdict } from './verdict.ts';
import { across, dot, minus, unit } from './vector.ts';

export type Round = Bore | Pin;

const { interfaces: limits } = checkDefaults;

/**
 * Judges bores and pins, by their index in `interfaces`. One with a place is the feature of its kind on whose axis the
 * place lies, of several (a counterbore) the one nearest in size. Those without a place share
 * the features that are left, each once, so that all sizes together differ least.
 *
 * @param largest the largest coordinate of the mesh, for rounding
 */
export function judgeRounds(
  interfaces: readonly Interface[],
  rounds: readonly Round[],
  largest: number,
): Map<number, Verdict> {
  const verdicts = new Map<number, Verdict>();
  const taken = new Set<Round>();
  const wanted = [...interfaces.entries()].filter(([, face]) => face.kind === 'bore' || face.kind === 'pin');
  for (const [k, face] of wanted) {
    const at = face.at_mm;
    if (at === undefined) continue;
    const fitting = rounds.filter(round => round.kind === face.kind && turnedRight(face, round));
    const here = fitting.filter(round => offAxis(round, at) <= reach(face));
    const found = nearestInSize(face, here, at);
    const any = found ?? least(fitting, round => offAxis(round, at));
    if (found !== null) taken.add(found);
    const nearest = any === null ? null : measured(any, at);
    verdicts.set(
      k,
      found === null ? { state: 'missing', found: 0, nearest } : sized(face, found, largest, at),
    );
  }
  const free = wanted.filter(([k]) => !verdicts.has(k));
  const needs = new Map(free.map(([k, face]) => [k, { face, left: face.count ?? 1, got: [] as Round[] }]));
  for (const kind of ['bore', 'pin'] as const) {
    const found = rounds.filter(round => round.kind === kind && !taken.has(round));
    // More than all that are there need not be looked for.
    const places = free.flatMap(([k, face]) =>
      face.kind === kind
        ? Array.from({ length: Math.min(face.count ?? 1, found.length) }, () => [k, face] as const)
        : [],
    );
    const chosen = assignSizes(
      places.map(([, face]) => face.nominal_mm ?? 0),
      found.map(round => round.diameter_mm),
      (w, f) => {
        const [, face] = places[w];
        const round = found[f];
        return turnedRight(face, round) && couldBeMeant(face, round) ? apart(face, round) ** 2 : Infinity;
      },
    );
    chosen.forEach((f, w) => {
      const need = needs.get(places[w][0]);
      if (f < 0 || need === undefined) return;
      taken.add(found[f]);
      need.left--;
      need.got.push(found[f]);
    });
  }
  for (const [k, { face, left, got }] of needs) {
    const worst = least(got, round => -apart(face, round));
    const outcome = worst === null ? null : sized(face, worst, largest);
    const other = least(
      rounds.filter(round => round.kind === face.kind && !taken.has(round)),
      round => apart(face, round),
    );
    const nearest = other === null ? null : measured(other);
    // A wrong size is told before a wrong number: it is most likely the reason for it.
    if (outcome !== null && (outcome.state === 'differs' || left === 0)) verdicts.set(k, outcome);
    else verdicts.set(k, { state: 'missing', found: got.length, nearest });
  }
  return verdicts;
}

/** Across the flats of a bore, where what it takes must pass; through the corners of a pin, which must pass itself. */
export function sizeThatMatters(round: Round): number {
  return round.kind === 'bore' ? round.inscribed_diameter_mm : round.diameter_mm;
}

function otherSize(round: Round): number {
  return round.kind === 'bore' ? round.diameter_mm : round.inscribed_diameter_mm;
}

function sized(face: Interface, round: Round, largest: number, at?: Vec3): Verdict {
  if (within(face, sizeThatMatters(round), largest)) return { state: 'fits' };
  const state = within(face, otherSize(round), largest) ? 'facets' : 'differs';
  return { state, measured: measured(round, at) };
}

/** Whether a size lies within the interface's tolerance; any does where no size is declared. */
export function within(face: Interface, size: number, largest: number): boolean {
  if (face.nominal_mm === undefined) return true;
  const { plus, minus: below } = face.tolerance_mm ?? {
    plus: limits.tolerance_mm,
    minus: limits.tolerance_mm,
  };
  const slack = limits.rounding * Math.max(largest, face.nominal_mm);
  return size <= face.nominal_mm + plus + slack && size >= face.nominal_mm - below - slack;
}

function measured(round: Round, at?: Vec3): Measured {
  return {
    size_mm: sizeThatMatters(round),
    other_mm: otherSize(round),
    at_mm: round.at_mm,
    off_mm: at === undefined ? null : offAxis(round, at),
  };
}

function reach(face: Interface): number {
  return Math.max(limits.offAxis_mm, limits.offAxisOfNominal * (face.nominal_mm ?? 0));
}

function offAxis(round: Round, at: Vec3): number {
  return across(minus(at, round.at_mm), round.axis);
}

function turnedRight(face: Interface, round: Round): boolean {
  const axis = face.axis === undefined ? null : unit(face.axis);
  return axis === null || Math.abs(dot(axis, round.axis)) >= Math.cos((limits.angle_deg * Math.PI) / 180);
}

/** How far a feature is from the declared size, by the diameter that comes nearer: what was drawn was one of the two. */
function apart(face: Interface, round: Round): number {
  const { nominal_mm: nominal } = face;
  if (nominal === undefined) return 0;
  return Math.min(Math.abs(round.diameter_mm - nominal), Math.abs(round.inscribed_diameter_mm - nominal));
}

function couldBeMeant(face: Interface, round: Round): boolean {
  const nominal = face.nominal_mm ?? round.diameter_mm;
  const ratio = round.diameter_mm / nominal;
  return ratio <= limits.sizeFactor && ratio >= 1 / limits.sizeFactor;
}

function nearestInSize(face: Interface, rounds: readonly Round[], at: Vec3): Round | null {
  const size = least(rounds, round => apart(face, round));
  if (size === null) return null;
  const tied = rounds.filter(round => apart(face, round) <= apart(face, size) + 1e-9);
  return least(tied, round => Math.hypot(...minus(at, round.at_mm)));
}

function least<T>(items: readonly T[], by: (item: T) => number): T | null {
  let best: T | null = null;
  for (const item of items) if (best === null || by(item) < by(best)) best = item;
  return best;
}
