import type { Comparison, Verdict } from '../comparison.ts';
import { pathLikeness } from './edit-distance.ts';
import { bothPaths } from './pair-by-content.ts';
import { shapeDistance } from './shape-distance.ts';
import type { ShapeSummary } from './shape-summary.ts';
import { treeDefaults } from './tree-defaults.ts';

/** A file whose shape is known by summary. */
export interface ShapedEntry {
  readonly path: string;
  readonly shape: ShapeSummary;
}

/** Compares two files truly; null when that fails. */
export type CompareEntries = (before: string, after: string) => Promise<Comparison | null>;

export interface ShapePair {
  readonly before: string;
  readonly after: string;
  readonly comparison: Comparison;
}

interface Candidate {
  readonly before: string;
  readonly after: string;
  readonly distance: number;
}

/** Best first. Up to `rescaled` the shapes are the same. */
const ranks: Readonly<Record<Verdict, number>> = {
  identical: 0,
  'same-shape': 1,
  moved: 2,
  mirrored: 3,
  rescaled: 4,
  reworked: 5,
  unsound: 6,
  replaced: 7,
};

/** Whether a comparison found the same shape on both sides. */
export function isSameShape(comparison: Comparison): boolean {
  return ranks[comparison.verdict] <= ranks.rescaled;
}

/**
 * Pairs files whose shapes match wherever they lie, cheaply told by their summaries and verified by comparing.
 * Each file is in at most one pair; the shape itself wins over its mirror image, then the more alike paths.
 */
export async function pairCongruent(
  before: readonly ShapedEntry[],
  after: readonly ShapedEntry[],
  compare: CompareEntries,
): Promise<ShapePair[]> {
  const candidates = offers(before, after).filter(offer => offer.distance <= treeDefaults.congruent);
  const pairs: ShapePair[] = [];
  const twins: ShapePair[] = [];
  const twinCounts = new Map<string, number>();
  // One round compares each file at most once; who finds no match in it tries the next best in the next.
  for (let left = candidates; left.length > 0;) {
    const round = disjoint(left);
    const verified = await verify(round, compare);
    for (const pair of verified)
      if (pair.comparison.alignment.mirrored && isSameShape(pair.comparison)) {
        twins.push(pair);
        for (const key of sideKeys(pair)) twinCounts.set(key, (twinCounts.get(key) ?? 0) + 1);
      } else if (isSameShape(pair.comparison)) pairs.push(pair);
    const used = new Set(pairs.flatMap(sideKeys));
    const tried = new Set(round);
    // Both of a pair of many twins have seen enough mirror images: they will hardly meet anything better.
    const enough = (offer: Candidate): boolean =>
      sideKeys(offer).every(key => (twinCounts.get(key) ?? 0) >= treeDefaults.candidates);
    left = left.filter(
      offer => !tried.has(offer) && !sideKeys(offer).some(key => used.has(key)) && !enough(offer),
    );
  }
  return disjoint([...pairs, ...twins]);
}

/**
 * Pairs files of which one is recognisably made from the other: a few nearest by summary and path are compared, and
 * the best matches are taken. Each file is in at most one pair.
 */
export async function pairReworked(
  before: readonly ShapedEntry[],
  after: readonly ShapedEntry[],
  compare: CompareEntries,
): Promise<ShapePair[]> {
  const all = offers(before, after);
  const near = new Set<Candidate>();
  const counts = new Map<string, number>();
  for (const offer of all) {
    const keys = sideKeys(offer);
    if (keys.every(key => (counts.get(key) ?? 0) >= treeDefaults.candidates)) continue;
    for (const key of keys) counts.set(key, (counts.get(key) ?? 0) + 1);
    near.add(offer);
  }
  const verified = await verify([...near], compare);
  return disjoint(
    bestFirst(
      verified.filter(pair => isMatch(pair.comparison)),
      [...near],
    ),
  );
}

/**
 * Finds what files without a counterpart descend from, among files that have theirs: a variant kept beside its
 * origin, a twin added to a part. Each file of `after` is in at most one pair; one of `before` may be in several.
 */
export async function pairDescendants(
  before: readonly ShapedEntry[],
  after: readonly ShapedEntry[],
  compare: CompareEntries,
): Promise<ShapePair[]> {
  const near = after.flatMap(entry => offers(before, [entry]).slice(0, treeDefaults.candidates));
  const verified = await verify(near, compare);
  const kin = verified.filter(
    ({ comparison }) =>
      isSameShape(comparison) ||
      (comparison.verdict !== 'replaced' && comparison.alignment.matched >= treeDefaults.descendantMatched),
  );
  const found = new Map<string, ShapePair>();
  for (const pair of bestFirst(kin, near)) if (!found.has(pair.after)) found.set(pair.after, pair);
  return [...found.values()];
}

/** By verdict, then by how much coincides (in hundredths: a twin and its mirror image differ by rounding). */
function bestFirst(pairs: readonly ShapePair[], offered: readonly Candidate[]): ShapePair[] {
  const distances = new Map(offered.map(offer => [`${offer.before}\0${offer.after}`, offer.distance]));
  const distance = (pair: ShapePair): number => distances.get(`${pair.before}\0${pair.after}`) ?? 0;
  const hundredths = ({ comparison }: ShapePair): number => Math.round(comparison.alignment.matched * 100);
  return [...pairs].sort(
    (a, b) =>
      ranks[a.comparison.verdict] - ranks[b.comparison.verdict] ||
      hundredths(b) - hundredths(a) ||
      Number(a.comparison.alignment.mirrored) - Number(b.comparison.alignment.mirrored) ||
      distance(a) - distance(b) ||
      bothPaths(a.before, a.after, b.before, b.after),
  );
}

function isMatch({ verdict, alignment }: Comparison): boolean {
  return (
    verdict !== 'replaced' && (verdict !== 'unsound' || alignment.matched >= treeDefaults.unsoundMatched)
  );
}

/** What is worth comparing, most promising first. */
function offers(before: readonly ShapedEntry[], after: readonly ShapedEntry[]): Candidate[] {
  const d = treeDefaults;
  const found: Candidate[] = [];
  for (const from of before)
    for (const to of after) {
      const far = shapeDistance(from.shape, to.shape);
      if (far > d.alikeByName) continue;
      const like = pathLikeness(from.path, to.path);
      if (far > d.alike && like < d.namesAlike) continue;
      // Congruent shapes stay below the limit whatever their names, ordered by likeness of names.
      const distance = far <= d.congruent ? far - d.nameBonus * like : far + d.nameBonus * (1 - like);
      found.push({ before: from.path, after: to.path, distance });
    }
  return found.sort((a, b) => a.distance - b.distance || bothPaths(a.before, a.after, b.before, b.after));
}

function disjoint<T extends { readonly before: string; readonly after: string }>(ordered: readonly T[]): T[] {
  const used = new Set<string>();
  return ordered.filter(pair => {
    const keys = sideKeys(pair);
    if (keys.some(key => used.has(key))) return false;
    for (const key of keys) used.add(key);
    return true;
  });
}

async function verify(candidates: readonly Candidate[], compare: CompareEntries): Promise<ShapePair[]> {
  const pairs = await Promise.all(
    candidates.map(async ({ before, after }) => ({
      before,
      after,
      comparison: await compare(before, after),
    })),
  );
  return pairs.flatMap(({ before, after, comparison }) =>
    comparison === null ? [] : [{ before, after, comparison }],
  );
}

function sideKeys({ before, after }: { readonly before: string; readonly after: string }): string[] {
  return [`before ${before}`, `after ${after}`];
}
