import { byText, treeDefaults, type AlignedVerdict, type ShapeSummary } from '@kinprint/compare';
import type { SnapshotEntry } from '../../snapshot/types.ts';
import type { PairRelation } from '../../work/task.ts';
import { adoptDefaults } from '../adopt-defaults.ts';
import { scaledLikeness } from './alike.ts';
import type { NameWords } from './name-words.ts';

/** What may be compared: a part at its latest. */
export interface KinCandidate {
  readonly key: number;
  readonly entry: SnapshotEntry;
  readonly shape: ShapeSummary;
  readonly words: NameWords;
  /** The name without words such as `v2` or `final`. */
  readonly plain: string;
  /** The states that hold it, from and to: parts that never stood side by side are no twins. */
  readonly from: number;
  readonly to: number;
}

/** Two parts and what their comparison said. */
export interface KinPair {
  /** Keys; `a` is the smaller one. */
  readonly a: number;
  readonly b: number;
  readonly verdict: AlignedVerdict;
  readonly mirrored: boolean;
  /** Uniform factor from `a` to `b`; 1 when only moved, null when there is none. */
  readonly factor: number | null;
  readonly matched: number;
}

/** The pair of two parts, by their keys; null where they were not compared. */
export function pairBetween(pairs: readonly KinPair[], p: number, q: number): KinPair | null {
  const [a, b] = p < q ? [p, q] : [q, p];
  return pairs.find(pair => pair.a === a && pair.b === b) ?? null;
}

/**
 * Compares the parts that may be one another's twin, copy or other size: those alike by their summaries, whatever
 * their names, and those whose names differ in a hand, a size or a version alone. Each is compared with at most
 * `adoptDefaults.candidates` others.
 */
export async function findKinPairs(
  parts: readonly KinCandidate[],
  relate: (a: SnapshotEntry, b: SnapshotEntry) => Promise<PairRelation | null>,
): Promise<KinPair[]> {
  const pairs: KinPair[] = [];
  const worth: { a: KinCandidate; b: KinCandidate; rank: number }[] = [];
  for (const [i, a] of parts.entries())
    for (const b of parts.slice(i + 1)) {
      if (a.to < b.from || b.to < a.from) continue;
      if (a.entry.digest !== null && a.entry.digest === b.entry.digest)
        pairs.push({ a: a.key, b: b.key, verdict: 'identical', mirrored: false, factor: 1, matched: 1 });
      else {
        const rank = rankOf(a, b);
        if (rank !== null) worth.push({ a, b, rank });
      }
    }
  worth.sort(
    (p, q) =>
      p.rank - q.rank || byText(p.a.entry.path, q.a.entry.path) || byText(p.b.entry.path, q.b.entry.path),
  );
  const counts = new Map<number, number>();
  const chosen = worth.filter(({ a, b }) => {
    const [m, n] = [counts.get(a.key) ?? 0, counts.get(b.key) ?? 0];
    if (m >= adoptDefaults.candidates || n >= adoptDefaults.candidates) return false;
    counts.set(a.key, m + 1).set(b.key, n + 1);
    return true;
  });
  const compared = await Promise.all(
    chosen.map(async ({ a, b }) => {
      const relation = await relate(a.entry, b.entry);
      return relation === null ? [] : [pairOf(a.key, b.key, relation)];
    }),
  );
  return [...pairs, ...compared.flat()].sort((p, q) => p.a - q.a || p.b - q.b);
}

/** Smallest first; null for two that are not worth comparing. */
function rankOf(a: KinCandidate, b: KinCandidate): number | null {
  const likeness = scaledLikeness(a.shape, b.shape);
  const rest = likeness === null ? Infinity : likeness.rest;
  const named = sharesPattern(a, b);
  if (named && rest <= treeDefaults.alikeByName) return rest;
  // Copies, twins and scaled copies, under whatever names. A twin of other tessellation is a little less alike.
  return rest <= adoptDefaults.scaledAlike ? 1 + rest : null;
}

/** Names that differ in the word for a hand, a size or a version alone. */
export function sharesPattern(a: KinCandidate, b: KinCandidate): boolean {
  if (a.words.handPattern !== null && a.words.handPattern === b.words.handPattern)
    return a.words.hand !== b.words.hand;
  const patterns = new Set(a.words.sizes.map(size => size.pattern));
  if (b.words.sizes.some(size => patterns.has(size.pattern))) return true;
  return (a.words.versionPattern !== null || b.words.versionPattern !== null) && a.plain === b.plain;
}

function pairOf(a: number, b: number, { verdict, alignment }: PairRelation): KinPair {
  const [x, y, z] = alignment.scale;
  const uniform = Math.max(Math.abs(x / y - 1), Math.abs(y / z - 1)) < 1e-6;
  return {
    a,
    b,
    verdict,
    mirrored: alignment.mirrored,
    factor: alignment.kind === 'none' || !uniform ? null : x,
    matched: alignment.matched,
  };
}
