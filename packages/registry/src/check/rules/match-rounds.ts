import type { Interface } from '@kinprint/manifest';
import type { Bore, Pin, Vec3 } from '@kinprint/mesh';
import { checkDefaults } from '../defaults.ts';
import { assignSizes } from './assign-sizes.ts';
import { across, dot, minus, unit } from './vector.ts';

export type Round = Bore | Pin;

const { interfaces: limits } = checkDefaults;

/** The features of a mesh that a declared bore or pin means. */
export interface RoundMatch {
  readonly got: readonly Round[];
  /** How many there should be. */
  readonly wanted: number;
  /** The nearest one of its kind that is not meant. */
  readonly other: Round | null;
}

/**
 * Which features the declared bores and pins mean, by their index in `interfaces`. One with a place is the feature of its
 * kind on whose axis the place lies, of several (a counterbore) the one nearest in size. Those without a place share
 * the features that are left, each once, so that all sizes together differ least.
 */
export function matchRounds(
  interfaces: readonly Interface[],
  rounds: readonly Round[],
): Map<number, RoundMatch> {
  const matches = new Map<number, RoundMatch>();
  const taken = new Set<Round>();
  const wanted = [...interfaces.entries()].filter(([, face]) => face.kind === 'bore' || face.kind === 'pin');
  for (const [k, face] of wanted) {
    const at = face.at_mm;
    if (at === undefined) continue;
    const fitting = rounds.filter(round => round.kind === face.kind && turnedRight(face, round));
    const here = fitting.filter(round => offAxis(round, at) <= reach(face));
    const found = nearestInSize(face, here, at);
    if (found !== null) taken.add(found);
    const other = least(fitting, round => (round === found ? Infinity : offAxis(round, at)));
    matches.set(k, { got: found === null ? [] : [found], wanted: 1, other: other === found ? null : other });
  }
  const free = wanted.filter(([k]) => !matches.has(k));
  const needs = new Map(free.map(([k, face]) => [k, { face, got: [] as Round[] }]));
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
      need.got.push(found[f]);
    });
  }
  for (const [k, { face, got }] of needs) {
    const others = rounds.filter(round => round.kind === face.kind && !taken.has(round));
    matches.set(k, { got, wanted: face.count ?? 1, other: least(others, round => apart(face, round)) });
  }
  return matches;
}

function reach(face: Interface): number {
  return Math.max(limits.offAxis_mm, limits.offAxisOfNominal * (face.nominal_mm ?? 0));
}

function turnedRight(face: Interface, round: Round): boolean {
  const axis = face.axis === undefined ? null : unit(face.axis);
  return axis === null || Math.abs(dot(axis, round.axis)) >= Math.cos((limits.angle_deg * Math.PI) / 180);
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

/** How far a feature is from the declared size, by the diameter that comes nearer: what was drawn was one of the two. */
export function apart(face: Interface, round: Round): number {
  const { nominal_mm: nominal } = face;
  if (nominal === undefined) return 0;
  return Math.min(Math.abs(round.diameter_mm - nominal), Math.abs(round.inscribed_diameter_mm - nominal));
}

export function least<T>(items: readonly T[], by: (item: T) => number): T | null {
  let best: T | null = null;
  for (const item of items) if (best === null || by(item) < by(best)) best = item;
  return best;
}

export function offAxis(round: Round, at: Vec3): number {
  return across(minus(at, round.at_mm), round.axis);
}
