import { kinDefaults } from './kin-defaults.ts';
import { kinIndex, nearestPrints, type KinIndex } from './kin-index.ts';
import { printOf, type MeshPrints } from './mesh-prints.ts';
import type { MeshIn } from './print-parts.ts';
import type { Kinship } from './verify-kin.ts';
import type { PairVerifier } from './verify-pairs.ts';

/** Contents with their fingerprints, whole and body by body, to be searched. */
export interface ContentIndex {
  readonly contents: readonly MeshIn[];
  readonly rows: readonly { readonly content: number; readonly body: number | null }[];
  readonly index: KinIndex;
}

/** A content that the query is related to. */
export interface RelatedContent {
  /** Its place among the contents. */
  readonly content: number;
  readonly kinship: Kinship;
  /** Which body of either file, counted from 0; null for the whole. */
  readonly queryBody: number | null;
  readonly body: number | null;
  /** How far apart the fingerprints are. */
  readonly distance: number;
}

/** @param prints for each content; null for one that cannot be read, which is never found */
export function indexContents(
  contents: readonly MeshIn[],
  prints: readonly (MeshPrints | null)[],
): ContentIndex {
  const rows = prints.flatMap((each, content) =>
    each === null || each.whole === null
      ? []
      : [
          { content, body: null, print: each.whole },
          ...each.bodies.map(({ body, print }) => ({ content, body, print })),
        ],
  );
  return {
    contents,
    rows: rows.map(({ content, body }) => ({ content, body })),
    index: kinIndex(rows.map(row => printOf(row.print))),
  };
}

interface Pair {
  readonly content: number;
  readonly queryBody: number | null;
  readonly body: number | null;
  readonly distance: number;
}

/**
 * The contents that a mesh is related to, strongest first. The nearest by fingerprint are compared with it, as wholes
 * and then body by body; the fingerprint alone proves nothing.
 *
 * @param wanted which contents count; all where left out
 * @returns the relatives, and how many comparisons were asked for
 * @throws InputError for a query that cannot be read
 */
export async function relatedContents(
  query: MeshIn,
  own: MeshPrints,
  among: ContentIndex,
  verifier: PairVerifier,
  wanted?: (content: number) => boolean,
): Promise<{ readonly related: RelatedContent[]; readonly compared: number }> {
  const pairs = nearPairs(own, among, wanted);
  const best = new Map<number, RelatedContent>();
  let compared = 0;
  for (const wholes of [true, false]) {
    const turn = pairs
      .filter(pair => (pair.queryBody === null && pair.body === null) === wholes && !best.has(pair.content))
      .slice(0, kinDefaults.candidates);
    compared += turn.length;
    const found = await Promise.all(
      turn.map(({ content, queryBody, body }) =>
        verifier.verify({ query, candidate: among.contents[content], queryBody, body }),
      ),
    );
    turn.forEach((pair, k) => {
      // Its fingerprint was had, perhaps from the cache; that the file is gone by now makes it no relative.
      const kinship = found[k] === 'candidate-unreadable' ? null : found[k];
      const known = best.get(pair.content);
      if (
        kinship !== null &&
        (known === undefined || kinshipStrength(kinship) > kinshipStrength(known.kinship))
      )
        best.set(pair.content, { ...pair, kinship });
    });
  }
  const related = [...best.values()].sort(
    (a, b) => kinshipStrength(b.kinship) - kinshipStrength(a.kinship) || a.distance - b.distance,
  );
  return { related, compared };
}

/**
 * The same shape goes before a reworked one, and of two the one that needs no mirror; of reworked ones, more in common
 * goes before less.
 */
export function kinshipStrength({
  relation,
  mirrored,
  other_facets,
  matched_query,
  matched_candidate,
}: Kinship): number {
  if (relation === 'reworked') return Math.min(matched_query, matched_candidate);
  return 4 - (other_facets ? 2 : 0) - (mirrored ? 1 : 0);
}

/** Pairs worth comparing, nearest first; each pair of wholes or bodies once. */
function nearPairs(
  own: MeshPrints,
  { rows, index }: ContentIndex,
  wanted?: (content: number) => boolean,
): Pair[] {
  const accepts = wanted === undefined ? undefined : (entry: number) => wanted(rows[entry].content);
  const queries = [...(own.whole === null ? [] : [{ body: null, print: own.whole }]), ...own.bodies];
  return queries
    .flatMap(({ body, print }) =>
      nearestPrints(index, printOf(print), 2 * kinDefaults.candidates, kinDefaults.farthest, accepts).map(
        ({ entry, distance }) => ({
          content: rows[entry].content,
          queryBody: body,
          body: rows[entry].body,
          distance,
        }),
      ),
    )
    .sort((a, b) => a.distance - b.distance);
}
