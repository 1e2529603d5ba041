import { isRecord } from '../cache/is-record.ts';
import type { Cache } from '../cache/cache.ts';
import type { Kinship } from './verify-kin.ts';

const kind = 'kinship';
/** Rises with any change of how shapes are compared. */
const version = 2;

/**
 * A kinship that was found before, taken from the cache, or found now.
 *
 * @param key all that it depends on; null for what must not be remembered
 * @param find null for shapes that are not related, undefined for what could not be told now
 */
export async function keptKinship(
  cache: Cache,
  key: string | null,
  find: () => Promise<Kinship | null | undefined>,
): Promise<Kinship | null> {
  const known = key === null ? undefined : cache.get(kind, version, key);
  if (isEntry(known)) return known.kinship;
  const kinship = await find();
  if (key !== null && kinship !== undefined) cache.put(kind, version, key, { kinship });
  return kinship ?? null;
}

/** Whether what a cache holds looks like what was put there. */
function isEntry(value: unknown): value is { readonly kinship: Kinship | null } {
  if (!isRecord(value) || !('kinship' in value)) return false;
  const { kinship } = value;
  return kinship === null || isKinship(kinship);
}

function isKinship(value: unknown): value is Kinship {
  if (!isRecord(value)) return false;
  const kinship = value as Readonly<Record<keyof Kinship, unknown>>;
  const { relation, mirrored, other_facets, deviation } = kinship;
  const numbers = [kinship.scale, kinship.matched_query, kinship.matched_candidate, kinship.within_mm];
  return (
    relations.has(relation) &&
    typeof mirrored === 'boolean' &&
    typeof other_facets === 'boolean' &&
    numbers.every(Number.isFinite) &&
    isDeviation(deviation)
  );
}

const relations: ReadonlySet<unknown> = new Set<Kinship['relation']>([
  'same-shape',
  'moved',
  'mirrored',
  'rescaled',
  'reworked',
]);

function isDeviation(value: unknown): value is Kinship['deviation'] {
  if (!isRecord(value)) return false;
  const gap = value as Readonly<Record<keyof Kinship['deviation'], unknown>>;
  return (
    [gap.max_mm, gap.max_error_mm, gap.mean_mm, gap.rms_mm, gap.p95_mm].every(Number.isFinite) &&
    Array.isArray(gap.max_at_mm) &&
    gap.max_at_mm.length === 3 &&
    gap.max_at_mm.every(Number.isFinite) &&
    (gap.max_from === 'before' || gap.max_from === 'after')
  );
}
