import type { Cache } from '../cache/cache.ts';
import { entryInput } from '../work/entry-input.ts';
import { resultOrThrow } from '../work/outcome.ts';
import { openPool, type WorkPool } from '../work/pool.ts';
import type { ReadOptions } from '@kinprint/mesh';
import { keptKinship } from './kept-kinship.ts';
import { kinDefaults } from './kin-defaults.ts';
import { kinIndex, nearestPrints } from './kin-index.ts';
import { printOf, type MeshPrints } from './mesh-prints.ts';
import { contentKey, printMeshes, type MeshIn } from './print-parts.ts';
import type { Kinship } from './verify-kin.ts';

/** Something registered that a mesh may be related to. */
export interface Candidate<Place> extends MeshIn {
  readonly place: Place;
}

/** A content that the query is related to, and where it is registered. */
export interface Relative<Place> {
  readonly places: readonly Place[];
  readonly kinship: Kinship;
  /** Which body of either file, counted from 0; null for the whole. */
  readonly query_body: number | null;
  readonly body: number | null;
  /** How far apart the fingerprints are. */
  readonly distance: number;
}

export interface KinFound<Place> {
  /** Strongest first. */
  readonly relatives: readonly Relative<Place>[];
  /** Different contents that were looked through, and how many could not be read. */
  readonly looked: number;
  readonly unreadable: number;
  /** Comparisons made. */
  readonly compared: number;
}

export interface KinOptions {
  readonly cache: Cache;
  readonly limit?: number;
  readonly progress?: (done: number, total: number) => void;
}

interface Pair {
  readonly content: number;
  readonly queryBody: number | null;
  readonly body: number | null;
  readonly distance: number;
}

/**
 * What a mesh is related to among candidates. The nearest by fingerprint are compared with it, as wholes and then body
 * by body; the fingerprint alone proves nothing. Candidates of equal content count as one.
 *
 * @throws InputError for a query that cannot be read
 */
export async function findKin<Place>(
  query: MeshIn,
  candidates: readonly Candidate<Place>[],
  options: KinOptions,
): Promise<KinFound<Place>> {
  const { cache, limit = kinDefaults.limit, progress } = options;
  const contents = new Map<string, Candidate<Place>[]>();
  for (const candidate of candidates) {
    const key = contentKey(candidate);
    if (key === null) continue;
    const list = contents.get(key);
    if (list === undefined) contents.set(key, [candidate]);
    else list.push(candidate);
  }
  const groups = [...contents.values()];
  const pool = openPool({ bytes: null, tasks: kinDefaults.candidates });
  try {
    const [known] = await printMeshes([query], cache);
    const own =
      known ??
      resultOrThrow(
        await pool.run<'prints'>(async () => ({
          kind: 'prints',
          file: await entryInput(query.entry, null, pool.threads),
          options: reading(query),
        })),
      );
    const prints = await printMeshes(
      groups.map(group => group[0]),
      cache,
      progress,
    );
    const pairs = nearPairs(own, prints);
    const best = new Map<number, { pair: Pair; kinship: Kinship }>();
    let compared = 0;
    for (const wholes of [true, false]) {
      const turn = pairs
        .filter(pair => (pair.queryBody === null && pair.body === null) === wholes && !best.has(pair.content))
        .slice(0, kinDefaults.candidates);
      compared += turn.length;
      const found = await Promise.all(
        turn.map(pair => {
          const candidate = groups[pair.content][0];
          const key = pairKey(query, candidate, pair);
          return keptKinship(cache, key, () => verify(pool, query, candidate, pair));
        }),
      );
      turn.forEach((pair, k) => {
        const kinship = found[k];
        const known = best.get(pair.content);
        if (kinship !== null && (known === undefined || strength(kinship) > strength(known.kinship)))
          best.set(pair.content, { pair, kinship });
      });
    }
    const relatives = [...best.values()]
      .sort((a, b) => strength(b.kinship) - strength(a.kinship) || a.pair.distance - b.pair.distance)
      .slice(0, limit)
      .map(({ pair, kinship }) => ({
        places: groups[pair.content].map(candidate => candidate.place),
        kinship,
        query_body: pair.queryBody,
        body: pair.body,
        distance: pair.distance,
      }));
    const unreadable = prints.filter(each => each === null).length;
    return { relatives, looked: groups.length, unreadable, compared };
  } finally {
    cache.flush();
    await pool.close();
  }
}

/**
 * The same shape goes before a reworked one, and of two the one that needs no mirror; of reworked ones, more in common
 * goes before less.
 */
function strength({ relation, mirrored, other_facets, matched_query, matched_candidate }: Kinship): number {
  if (relation === 'reworked') return Math.min(matched_query, matched_candidate);
  return 4 - (other_facets ? 2 : 0) - (mirrored ? 1 : 0);
}

/** Pairs worth comparing, nearest first; each pair of wholes or bodies once. */
function nearPairs(own: MeshPrints, prints: readonly (MeshPrints | null)[]): Pair[] {
  const rows = prints.flatMap((each, content) =>
    each === null || each.whole === null
      ? []
      : [
          { content, body: null, print: each.whole },
          ...each.bodies.map(({ body, print }) => ({ content, body, print })),
        ],
  );
  const index = kinIndex(rows.map(row => printOf(row.print)));
  const queries = [...(own.whole === null ? [] : [{ body: null, print: own.whole }]), ...own.bodies];
  return queries
    .flatMap(({ body, print }) =>
      nearestPrints(index, printOf(print), 2 * kinDefaults.candidates, kinDefaults.farthest).map(
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

/** All that the comparison of a pair depends on. */
function pairKey(query: MeshIn, candidate: MeshIn, pair: Pair): string | null {
  const [from, to] = [contentKey(query), contentKey(candidate)];
  return from === null || to === null ? null : JSON.stringify([from, pair.queryBody, to, pair.body]);
}

/** undefined where the candidate cannot be read any more. */
async function verify(
  pool: WorkPool,
  query: MeshIn,
  candidate: MeshIn,
  pair: Pair,
): Promise<Kinship | null | undefined> {
  const outcome = await pool.run<'kin'>(async () => ({
    kind: 'kin',
    query: await entryInput(query.entry, pair.queryBody, pool.threads),
    candidate: await entryInput(candidate.entry, pair.body, pool.threads),
    queryOptions: reading(query),
    candidateOptions: reading(candidate),
  }));
  // Its fingerprint was had, perhaps from the cache; that the file is gone by now makes it no relative.
  return outcome.state === 'input-error' && outcome.side === 'after' ? undefined : resultOrThrow(outcome);
}

function reading({ unit }: MeshIn): ReadOptions {
  return unit === null ? {} : { unit };
}
