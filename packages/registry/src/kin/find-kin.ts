import type { Cache } from '../cache/cache.ts';
import { kinDefaults } from './kin-defaults.ts';
import { contentKey, printMeshes, type MeshIn } from './print-parts.ts';
import { indexContents, relatedContents } from './related-contents.ts';
import type { Kinship } from './verify-kin.ts';
import { openVerifier } from './verify-pairs.ts';

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
  const groups = byContent(candidates);
  const verifier = openVerifier(cache);
  try {
    const [known, ...prints] = await printMeshes([query, ...groups.map(group => group[0])], cache, progress);
    const own = known ?? (await verifier.prints(query));
    const index = indexContents(
      groups.map(group => group[0]),
      prints,
    );
    const { related, compared } = await relatedContents(query, own, index, verifier);
    return {
      relatives: related.slice(0, limit).map(({ content, kinship, queryBody, body, distance }) => ({
        places: groups[content].map(candidate => candidate.place),
        kinship,
        query_body: queryBody,
        body,
        distance,
      })),
      looked: groups.length,
      unreadable: prints.filter(each => each === null).length,
      compared,
    };
  } finally {
    await verifier.close();
  }
}

/** Those of equal content together, in the order in which each was first seen; those without content are left out. */
export function byContent<T extends MeshIn>(meshes: readonly T[]): T[][] {
  const contents = new Map<string, T[]>();
  for (const mesh of meshes) {
    const key = contentKey(mesh);
    if (key === null) continue;
    const list = contents.get(key);
    if (list === undefined) contents.set(key, [mesh]);
    else list.push(mesh);
  }
  return [...contents.values()];
}
