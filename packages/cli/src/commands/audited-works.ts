import {
  cachedReader,
  cacheFolder,
  hashMemory,
  openSources,
  publishedAt,
  readRegistry,
  stateHistory,
  workingFiles,
  worksOf,
  type Cache,
  type OpenedSource,
  type RegistryState,
  type RegistryWorks,
  type StateHistory,
} from '@kinprint/registry';
import { fetchSources } from '../fetch-sources.ts';
import type { Io } from '../io.ts';
import { namedNodes } from './lineage-names.ts';
import { tellGaps } from './tell-gaps.ts';
import { tellUnusable } from './tell-unusable.ts';

export interface OpenedWorks {
  readonly state: RegistryState;
  readonly history: StateHistory;
  readonly works: RegistryWorks;
  readonly published: string | null;
  /** Other registries that are at hand. */
  readonly sources: ReadonlyMap<string, OpenedSource>;
  /** Closes the histories. */
  close(): Promise<void>;
}

/** What a command says of where to look. */
export interface WorksFlags {
  readonly repo?: string;
  /** Fetch the sources first; those fetched before are read in any case. */
  readonly sources: boolean;
}

/**
 * Reads a registry and what its letters said of licenses and authors, and those of other registries as far as they are at
 * hand.
 *
 * @throws InputError `sources-need-cache`, and as `readRegistry`, `Sources.open`
 */
export async function openWorks(root: string, cache: Cache, flags: WorksFlags, io: Io): Promise<OpenedWorks> {
  const memory = hashMemory(cache);
  const read = cachedReader(cache);
  const state = await readRegistry(workingFiles(root, memory), read);
  tellUnusable(state, io);
  const history = stateHistory(root, memory);
  const folder = cacheFolder();
  const sources = folder === null ? null : openSources(state, { cache: folder, memory, read });
  const close = async (): Promise<void> => {
    await Promise.all([history.close(), sources?.close()]);
  };
  try {
    if (flags.sources) await fetchSources(sources);
    const published = flags.repo ?? (await publishedAt(root));
    const atHand = (await sources?.openedAtHand()) ?? new Map<string, OpenedSource>();
    const works = await worksOf(state, history, { published, sources: atHand });
    await tellGaps(history, io);
    return { state, history, works, published, sources: atHand, close };
  } catch (error) {
    await close();
    throw error;
  }
}

/**
 * The work that is named: a letter, or what the variant holds now.
 *
 * @throws InputError as `namedNodes`
 */
export function namedWork({ graph, heads }: RegistryWorks, name: string): string {
  const nodes = namedNodes(graph, name);
  return name.includes('@') ? nodes[0] : (heads.get(name) ?? nodes[nodes.length - 1]);
}
