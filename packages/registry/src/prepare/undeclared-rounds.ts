import type { Interface } from '@kinprint/manifest';
import type { Vec3 } from '@kinprint/mesh';
import type { PartFacts } from '../check/facts.ts';
import { sizeThatMatters } from '../check/rules/judge-rounds.ts';
import { matchRounds, type Round } from '../check/rules/match-rounds.ts';
import { prepareDefaults } from './defaults.ts';

/**
 * Bores and pins of a mesh that no interface of its part declares, as interfaces: the size to which they were most likely
 * drawn, where they are, and which way they point. Many alike become one with a count. What they take, and whether they
 * grow with the part, a mesh does not tell.
 */
export function undeclaredRounds(declared: readonly Interface[], facts: PartFacts): Interface[] {
  const rounds = facts.features.filter((f): f is Round => f.kind !== 'plane');
  const meant = new Set([...matchRounds(declared, rounds).values()].flatMap(({ got }) => got));
  // A fillet is round as well, and nothing goes through it.
  const left = rounds.filter(round => !meant.has(round) && round.turn >= prepareDefaults.leastTurn);
  const ids = new Set(declared.map(({ id }) => id));
  const found: Interface[] = [];
  for (const alike of grouped(left)) {
    const { kind } = alike[0];
    const nominal_mm = drawnSize(alike[0]);
    if (alike.length > prepareDefaults.mostPlaced)
      found.push({ id: freeId(kind, ids), kind, nominal_mm, count: alike.length });
    else
      for (const round of alike)
        found.push({
          id: freeId(kind, ids),
          kind,
          nominal_mm,
          at_mm: rounded(round.at_mm, 2),
          axis: rounded(round.axis, 4),
        });
  }
  return found.slice(0, prepareDefaults.mostInterfaces);
}

/** Of one kind and size; in the order that they were found. */
function grouped(rounds: readonly Round[]): Round[][] {
  const groups = new Map<string, Round[]>();
  for (const round of rounds) {
    const key = `${round.kind} ${drawnSize(round)}`;
    groups.set(key, [...(groups.get(key) ?? []), round]);
  }
  return [...groups.values()];
}

/** The size that matters, as somebody would have drawn it. */
function drawnSize(round: Round): number {
  const { grain_mm } = prepareDefaults;
  const size = sizeThatMatters(round);
  const steps = Math.round(size / grain_mm);
  return Number((steps > 0 ? steps * grain_mm : size).toFixed(4));
}

function freeId(kind: Round['kind'], ids: Set<string>): string {
  let n = 1;
  while (ids.has(`${kind}-${n}`)) n++;
  ids.add(`${kind}-${n}`);
  return `${kind}-${n}`;
}

function rounded(v: Vec3, digits: number): [number, number, number] {
  const round = (x: number): number => Number(x.toFixed(digits)) + 0;
  return [round(v[0]), round(v[1]), round(v[2])];
}
