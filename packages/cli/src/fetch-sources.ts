import { InputError } from '@kinprint/mesh';
import type { Sources } from '@kinprint/registry';

/**
 * Fetches all sources of a registry anew.
 *
 * @param sources null where there is no cache to keep them in
 * @throws InputError `sources-need-cache`, and as `Sources.open`
 */
export async function fetchSources(sources: Sources | null): Promise<void> {
  if (sources === null)
    throw new InputError(
      'sources-need-cache',
      'Sources are kept in the cache, which is off.',
      'Set KINPRINT_CACHE to a folder.',
    );
  for (const name of sources.names) await sources.open(name, true);
}
