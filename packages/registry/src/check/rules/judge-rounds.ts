import type { Interface } from '@kinprint/manifest';
import type { Vec3 } from '@kinprint/mesh';
import { apart, least, matchRounds, offAxis, type Round } from './match-rounds.ts';
import type { Measured, Verdict } from './verdict.ts';
import { within } from './within.ts';

/**
 * Judges bores and pins, by their index in `interfaces`; see `matchRounds` for which feature is meant by which.
 *
 * @param largest the largest coordinate of the mesh, for rounding
 */
export function judgeRounds(
  interfaces: readonly Interface[],
  rounds: readonly Round[],
  largest: number,
): Map<number, Verdict> {
  const verdicts = new Map<number, Verdict>();
  for (const [k, { got, wanted, other }] of matchRounds(interfaces, rounds)) {
    const face = interfaces[k];
    const worst = least(got, round => -apart(face, round));
    const outcome = worst === null ? null : sized(face, worst, largest, face.at_mm);
    const nearest = other === null ? null : measured(other, face.at_mm);
    // A wrong size is told before a wrong number: it is most likely the reason for it.
    if (outcome !== null && (outcome.state === 'differs' || got.length >= wanted)) verdicts.set(k, outcome);
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
  const state = within(face, sizeThatMatters(round), largest)
    ? 'fits'
    : within(face, otherSize(round), largest)
      ? 'facets'
      : 'differs';
  return { state, measured: measured(round, at) };
}

function measured(round: Round, at?: Vec3): Measured {
  return {
    size_mm: sizeThatMatters(round),
    other_mm: otherSize(round),
    at_mm: round.at_mm,
    off_mm: at === undefined ? null : offAxis(round, at),
  };
}
