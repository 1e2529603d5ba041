import { adoptDefaults } from '../adopt-defaults.ts';
import { pairBetween, type KinCandidate, type KinPair } from './kin-pairs.ts';
import type { Hand } from './name-words.ts';

/** What is known of the hand that a part is for. */
export interface HandJudgment {
  readonly hand: Hand | 'both' | null;
  /** What a person must settle; null when nothing. */
  readonly unsettled: string | null;
  /** The key of its mirror image, where there is one. */
  readonly twin: number | null;
}

/** Whether hands matter among these parts: mirror images stand side by side, or names speak of left and right. */
export function areHanded(parts: readonly KinCandidate[], pairs: readonly KinPair[]): boolean {
  return (
    pairs.some(isTwin) ||
    parts.some(
      part => part.words.handSpelled || (part.words.hand !== null && counterpart(part, parts) !== null),
    )
  );
}

/** Parts whose symmetry must be known before `judgeHands`: those without a twin. */
export function withoutTwin<T extends KinCandidate>(parts: readonly T[], pairs: readonly KinPair[]): T[] {
  const twinned = new Set(pairs.filter(isTwin).flatMap(pair => [pair.a, pair.b]));
  return parts.filter(part => !twinned.has(part.key));
}

/**
 * Which hand each part is for. That two are mirror images is found by shape; which of them is the left one only names
 * can tell. A shape that is its own mirror image fits both hands.
 *
 * @param symmetric whether a shape is its own mirror image; parts of several bodies are left out
 */
export function judgeHands(
  parts: readonly KinCandidate[],
  pairs: readonly KinPair[],
  symmetric: ReadonlyMap<number, boolean | null>,
): Map<number, HandJudgment> {
  const byKey = new Map(parts.map(part => [part.key, part]));
  const twins = new Map<number, number>();
  // Opposite names go first, where one shape has several mirror images.
  const named = (pair: KinPair): boolean => {
    const [p, q] = [byKey.get(pair.a)?.words, byKey.get(pair.b)?.words];
    return p?.hand !== null && q?.hand !== null && p?.hand !== q?.hand && p?.handPattern === q?.handPattern;
  };
  const candidates = pairs.filter(isTwin);
  for (const pair of [...candidates.filter(named), ...candidates.filter(pair => !named(pair))])
    if (!twins.has(pair.a) && !twins.has(pair.b)) twins.set(pair.a, pair.b).set(pair.b, pair.a);

  const judged = new Map<number, HandJudgment>();
  for (const part of parts) {
    const twin = byKey.get(twins.get(part.key) ?? -1);
    judged.set(
      part.key,
      twin === undefined ? alone(part, parts, pairs, symmetric.get(part.key) ?? null) : ofTwins(part, twin),
    );
  }
  return judged;
}

/** Exact mirror images; a copy that was scaled as well is another size. */
function isTwin({ verdict, mirrored, factor }: KinPair): boolean {
  return verdict === 'mirrored' && mirrored && (factor === null || Math.abs(factor - 1) < 1e-3);
}

function ofTwins(part: KinCandidate, twin: KinCandidate): HandJudgment {
  const [own, other] = [part.words.hand, twin.words.hand];
  const base = { twin: twin.key };
  if (own !== null && own !== other)
    return {
      ...base,
      hand: own,
      unsettled: other === null ? `Its mirror image ${fileName(twin)} is not named for a hand.` : null,
    };
  if (own === null && other !== null)
    return {
      ...base,
      hand: opposite(other),
      unsettled: `Taken for the ${opposite(other)} one: it is the mirror image of ${fileName(twin)}.`,
    };
  if (own === null)
    return {
      ...base,
      hand: null,
      unsettled: `Mirror image of ${fileName(twin)}: which of the two is the left one?`,
    };
  return {
    ...base,
    hand: null,
    unsettled: `Mirror image of ${fileName(twin)}, and both are named '${own}'.`,
  };
}

function alone(
  part: KinCandidate,
  parts: readonly KinCandidate[],
  pairs: readonly KinPair[],
  symmetric: boolean | null,
): HandJudgment {
  const base = { twin: null };
  const { hand } = part.words;
  const other = counterpart(part, parts);
  if (symmetric === true)
    return {
      ...base,
      hand: 'both',
      unsettled:
        part.words.handSpelled && other === null
          ? `Named '${hand ?? ''}', but it is its own mirror image and fits both hands.`
          : null,
    };
  if (hand === null) return { ...base, hand: null, unsettled: null };
  if (other === null)
    return part.words.handSpelled
      ? { ...base, hand, unsettled: `Only its name says that it is for the ${hand} hand.` }
      : { ...base, hand: null, unsettled: null };
  const pair = pairBetween(pairs, part.key, other.key);
  return {
    ...base,
    hand,
    unsettled: `Named ${hand}, but no mirror image of ${fileName(other)}: ${difference(pair)}.`,
  };
}

function difference(pair: KinPair | null): string {
  if (pair === null) return 'they were not compared';
  switch (pair.verdict) {
    case 'identical':
    case 'same-shape':
    case 'moved':
      return 'both are the same shape';
    case 'rescaled':
      return 'they are of different size';
    case 'reworked':
      return pair.mirrored && pair.matched >= adoptDefaults.kinMatched
        ? 'a mirror image that was changed besides'
        : 'a changed shape';
    case 'mirrored':
    case 'replaced':
      return 'another shape';
  }
}

/** The part of the other hand by name. */
function counterpart(part: KinCandidate, parts: readonly KinCandidate[]): KinCandidate | null {
  const { hand, handPattern } = part.words;
  return (
    parts.find(
      other =>
        handPattern !== null &&
        other.words.handPattern === handPattern &&
        other.words.hand === (hand === null ? null : opposite(hand)) &&
        other.from <= part.to &&
        part.from <= other.to,
    ) ?? null
  );
}

function opposite(hand: Hand): Hand {
  return hand === 'left' ? 'right' : 'left';
}

function fileName(part: KinCandidate): string {
  return part.entry.path.slice(part.entry.path.lastIndexOf('/') + 1);
}
