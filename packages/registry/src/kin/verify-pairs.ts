import type { ReadOptions } from '@kinprint/mesh';
import type { Cache } from '../cache/cache.ts';
import { entryInput } from '../work/entry-input.ts';
import { resultOrThrow } from '../work/outcome.ts';
import { openPool, type WorkPool } from '../work/pool.ts';
import { keptKinship } from './kept-kinship.ts';
import { kinDefaults } from './kin-defaults.ts';
import type { MeshPrints } from './mesh-prints.ts';
import { contentKey, type MeshIn } from './print-parts.ts';
import type { Kinship } from './verify-kin.ts';

/** Two meshes, or one body of either (counted from 0). */
export interface MeshPair {
  readonly query: MeshIn;
  readonly candidate: MeshIn;
  readonly queryBody: number | null;
  readonly body: number | null;
}

/** Compares pairs of meshes on all cores; what was compared before is taken from the cache. */
export interface PairVerifier {
  /**
   * How they are related; null where they are not.
   *
   * @throws InputError for a query that cannot be read
   */
  verify(pair: MeshPair): Promise<Kinship | null | 'candidate-unreadable'>;
  /** @throws InputError for one that cannot be read */
  prints(mesh: MeshIn): Promise<MeshPrints>;
  /** To be called at the end. */
  close(): Promise<void>;
}

/**
 * @param eitherWay an answer for the same two the other way round will do, turned around: all but `deviation`, which
 *   stays in the frame and size of the one it was measured in
 */
export function openVerifier(cache: Cache, eitherWay = false): PairVerifier {
  let opened: WorkPool | null = null;
  /** Asked for and not yet answered. */
  const running = new Map<string, Promise<Kinship | null | 'candidate-unreadable'>>();
  const pool = (): WorkPool => (opened ??= openPool({ bytes: null, tasks: kinDefaults.candidates }));

  async function compared(
    pair: MeshPair,
    key: string | null,
  ): Promise<Kinship | null | 'candidate-unreadable'> {
    let gone = false;
    const kinship = await keptKinship(cache, key, async () => {
      const { threads } = pool();
      const outcome = await pool().run<'kin'>(async () => ({
        kind: 'kin',
        query: await entryInput(pair.query.entry, pair.queryBody, threads),
        candidate: await entryInput(pair.candidate.entry, pair.body, threads),
        queryOptions: reading(pair.query),
        candidateOptions: reading(pair.candidate),
      }));
      gone = outcome.state === 'input-error' && outcome.side === 'after';
      return gone ? undefined : resultOrThrow(outcome);
    });
    return gone ? 'candidate-unreadable' : kinship;
  }

  /** The answer for the two the other way round, where it was given before; undefined where it was not. */
  async function turned(pair: MeshPair): Promise<Kinship | null | undefined> {
    const key = pairKey({
      query: pair.candidate,
      candidate: pair.query,
      queryBody: pair.body,
      body: pair.queryBody,
    });
    let known = true;
    const kinship = await keptKinship(cache, key, () => {
      known = false;
      return Promise.resolve(undefined);
    });
    return known ? inverse(kinship) : undefined;
  }

  return {
    async verify(pair) {
      const key = pairKey(pair);
      const before = key === null ? undefined : running.get(key);
      if (before !== undefined) return before;
      const other = eitherWay ? await turned(pair) : undefined;
      if (other !== undefined) return other;
      const answer = compared(pair, key);
      if (key !== null) running.set(key, answer);
      return answer;
    },
    async prints(mesh) {
      const { threads } = pool();
      return resultOrThrow(
        await pool().run<'prints'>(async () => ({
          kind: 'prints',
          file: await entryInput(mesh.entry, null, threads),
          options: reading(mesh),
        })),
      );
    },
    async close() {
      await opened?.close();
      cache.flush();
    },
  };
}

function inverse(kinship: Kinship | null): Kinship | null {
  if (kinship === null) return null;
  const { scale, matched_query, matched_candidate } = kinship;
  return {
    ...kinship,
    scale: scale === 1 ? 1 : 1 / scale,
    matched_query: matched_candidate,
    matched_candidate: matched_query,
  };
}

/** All that the comparison of a pair depends on; null where content is missing. */
function pairKey({ query, candidate, queryBody, body }: MeshPair): string | null {
  const [from, to] = [contentKey(query), contentKey(candidate)];
  return from === null || to === null ? null : JSON.stringify([from, queryBody, to, body]);
}

function reading({ unit }: MeshIn): ReadOptions {
  return unit === null ? {} : { unit };
}
