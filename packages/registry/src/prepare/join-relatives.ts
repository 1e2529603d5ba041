import { compareLetters, parseRevisionAddress, type Derivation } from '@kinprint/manifest';

/** A revision that the audit found parts to have the shape of. */
export interface KnownRelative {
  /** With a letter. */
  readonly from: string;
  readonly relation: Derivation['relation'];
  readonly digest: string | null;
  /** The part that has the shape. */
  readonly part: string | null;
}

/**
 * One derivation for each variant that parts have the shape of: from the latest letter named, and by what is said of the
 * parts, where that is the same for all parts that there are; else as a remix.
 *
 * @param parts how many parts there are
 */
export function joinRelatives(relatives: readonly KnownRelative[], parts: number): KnownRelative[] {
  const families = new Map<string, KnownRelative[]>();
  for (const relative of relatives) {
    const family = relative.from.split('@')[0];
    families.set(family, [...(families.get(family) ?? []), relative]);
  }
  return [...families.values()].map(family => {
    const [latest] = [...family].sort((a, b) => laterFirst(a.from, b.from));
    const whole = new Set(family.map(({ part }) => part)).size === parts;
    const alike = family.every(({ relation }) => relation === latest.relation);
    return { ...latest, relation: whole && alike ? latest.relation : 'remix' };
  });
}

function laterFirst(a: string, b: string): number {
  const [x, y] = [parseRevisionAddress(a), parseRevisionAddress(b)];
  return x === null || y === null ? 0 : compareLetters(y.letter, x.letter);
}
