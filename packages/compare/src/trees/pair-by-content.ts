import { byText, pathLikeness } from './edit-distance.ts';
import type { EntryInfo } from './types.ts';

/** Two entries found to belong together without looking at shapes. */
export interface EntryPair<E extends EntryInfo> {
  readonly before: E;
  readonly after: E;
  readonly pairing: 'path' | 'content' | 'copy';
}

export interface EntryPairs<E extends EntryInfo> {
  readonly pairs: readonly EntryPair<E>[];
  /** Entries without a counterpart yet, by path. */
  readonly restBefore: readonly E[];
  readonly restAfter: readonly E[];
}

/**
 * Pairs the entries of two trees by path, then by content: renamed files first, copies last.
 *
 * Every entry is in exactly one pair or in a rest, except that one which is already paired may be named again as the
 * other half of a `copy`. The order of the entries does not matter, and swapping the trees swaps the pairs' halves.
 */
export function pairByPathAndContent<E extends EntryInfo>(
  before: readonly E[],
  after: readonly E[],
): EntryPairs<E> {
  const pairs: EntryPair<E>[] = [];
  const afterByPath = new Map(after.map(entry => [entry.path, entry]));
  const taken = new Set<E>();
  const take = (from: E, to: E, pairing: EntryPair<E>['pairing']): void => {
    pairs.push({ before: from, after: to, pairing });
    taken.add(from).add(to);
  };

  for (const from of before) {
    const to = afterByPath.get(from.path);
    if (to !== undefined) take(from, to, 'path');
  }
  const free = (entries: readonly E[]): E[] => entries.filter(entry => !taken.has(entry)).sort(byPath);
  const freeAfter = byDigest(free(after));
  for (const [digest, from] of byDigest(free(before)))
    for (const [p, q] of likeliest(from, freeAfter.get(digest) ?? [])) take(p, q, 'content');

  const allBefore = byDigest(before);
  const allAfter = byDigest(after);
  const [lostBefore, lostAfter] = [free(before), free(after)];
  for (const to of lostAfter) {
    const from = mostAlike(to, allBefore.get(to.digest ?? '') ?? []);
    if (from !== null) take(from, to, 'copy');
  }
  for (const from of lostBefore) {
    const to = mostAlike(from, allAfter.get(from.digest ?? '') ?? []);
    if (to !== null) take(from, to, 'copy');
  }
  return { pairs, restBefore: free(before), restAfter: free(after) };
}

/** Entries whose content is unknown are in no group. */
function byDigest<E extends EntryInfo>(entries: readonly E[]): Map<string, E[]> {
  const groups = new Map<string, E[]>();
  for (const entry of entries) {
    if (entry.digest === null) continue;
    const group = groups.get(entry.digest);
    if (group === undefined) groups.set(entry.digest, [entry]);
    else group.push(entry);
  }
  return groups;
}

/** Beyond this many combinations, equal content is paired in the order of paths. */
const mostCombinations = 10_000;

/** Pairs as many as there are on both sides, the most alike paths first. */
function likeliest<E extends EntryInfo>(before: readonly E[], after: readonly E[]): [E, E][] {
  if (before.length * after.length > mostCombinations)
    return before.slice(0, after.length).map((from, i): [E, E] => [from, after[i]]);
  const offers = before.flatMap(from =>
    after.map(to => ({ from, to, like: pathLikeness(from.path, to.path) })),
  );
  offers.sort((a, b) => b.like - a.like || bothPaths(a.from.path, a.to.path, b.from.path, b.to.path));
  const used = new Set<E>();
  const chosen: [E, E][] = [];
  for (const { from, to } of offers) {
    if (used.has(from) || used.has(to)) continue;
    used.add(from).add(to);
    chosen.push([from, to]);
  }
  return chosen;
}

function mostAlike<E extends EntryInfo>(entry: E, others: readonly E[]): E | null {
  let best: E | null = null;
  let most = -1;
  for (const other of [...others].sort(byPath)) {
    const like = pathLikeness(entry.path, other.path);
    if (like > most) [best, most] = [other, like];
  }
  return best;
}

function byPath(a: EntryInfo, b: EntryInfo): number {
  return byText(a.path, b.path);
}

/** An order of pairs that stays the same when the sides are swapped. */
export function bothPaths(a1: string, a2: string, b1: string, b2: string): number {
  const [a, aa] = a1 < a2 ? [a1, a2] : [a2, a1];
  const [b, bb] = b1 < b2 ? [b1, b2] : [b2, b1];
  return byText(a, b) || byText(aa, bb);
}
