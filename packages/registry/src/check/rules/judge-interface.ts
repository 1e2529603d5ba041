import type { Interface } from '@kinprint/manifest';
import type { Plane } from '@kinprint/mesh';
import type { PartFacts } from '../facts.ts';
import { judgeFace, judgePair } from './judge-planes.ts';
import { judgeRounds } from './judge-rounds.ts';
import type { Round } from './match-rounds.ts';
import type { Verdict } from './verdict.ts';

/**
 * Judges all interfaces of a part; in their order.
 *
 * @param closer planes found by a closer look, which then stand in for the largest ones of the mesh
 */
export function judgeInterfaces(
  interfaces: readonly Interface[],
  facts: PartFacts,
  closer: readonly Plane[] | null = null,
): Verdict[] {
  const largest = largestCoordinate(facts);
  const rounds = facts.features.filter((f): f is Round => f.kind !== 'plane');
  const planes = closer ?? facts.features.filter(f => f.kind === 'plane');
  const uncertain = facts.notes.find(n => n.about === 'features')?.text ?? null;
  const judgedRounds = judgeRounds(interfaces, rounds, largest);
  return interfaces.map((face, k) => {
    const verdict =
      judgedRounds.get(k) ??
      (face.kind === 'face' ? judgeFace(face, planes, largest) : judgePair(face, planes, largest));
    // Where the search for features was not complete, what it did not find may be there all the same.
    return verdict.state === 'missing' && uncertain !== null
      ? { state: 'unchecked', why: uncertain }
      : verdict;
  });
}

/** For rounding. */
export function largestCoordinate({ bounds_mm }: Pick<PartFacts, 'bounds_mm'>): number {
  const { max, min } = bounds_mm ?? { max: [0, 0, 0], min: [0, 0, 0] };
  return Math.max(...[...max, ...min].map(Math.abs));
}
