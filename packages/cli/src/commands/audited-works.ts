import {
  cachedReader,
  hashMemory,
  publishedAt,
  readRegistry,
  stateHistory,
  workingFiles,
  worksOf,
  type Cache,
  type RegistryState,
  type RegistryWorks,
  type StateHistory,
} from '@kinprint/registry';
import type { Io } from '../io.ts';
import { namedNodes } from './lineage-names.ts';
import { tellGaps } from './tell-gaps.ts';
import { tellUnusable } from './tell-unusable.ts';

export interface OpenedWorks {
  readonly state: RegistryState;
  readonly history: StateHistory;
  readonly works: RegistryWorks;
  readonly published: string | null;
}

/** Reads a registry and what its letters said of licenses and authors; the caller closes the history. */
export async function openWorks(
  root: string,
  cache: Cache,
  repo: string | undefined,
  io: Io,
): Promise<OpenedWorks> {
  const memory = hashMemory(cache);
  const state = await readRegistry(workingFiles(root, memory), cachedReader(cache));
  tellUnusable(state, io);
  const history = stateHistory(root, memory);
  try {
    const published = repo ?? (await publishedAt(root));
    const works = await worksOf(state, history, { published });
    await tellGaps(history, io);
    return { state, history, works, published };
  } catch (error) {
    await history.close();
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
