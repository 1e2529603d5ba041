import { tmpdir } from 'node:os';
import path from 'node:path';
import {
  cachedReader,
  cacheFolder,
  hashMemory,
  openCache,
  openSources,
  readRegistry,
  workingFiles,
  type OpenSourceRegistry,
  type RegistryState,
} from '@kinprint/registry';

/** A working copy, and the registries it names as sources, opened when asked for. */
export interface WithSources {
  readonly state: RegistryState;
  readonly source: (name: string) => Promise<OpenSourceRegistry>;
  close(): Promise<void>;
}

/** Opens a registry for commands that take content from others into it. @throws InputError as `readRegistry` */
export async function openWithSources(root: string): Promise<WithSources> {
  const folder = cacheFolder();
  const cache = openCache(folder);
  const memory = hashMemory(cache);
  const read = cachedReader(cache);
  const state = await readRegistry(workingFiles(root, memory), read);
  const sources = openSources(state, { cache: folder ?? path.join(tmpdir(), 'kinprint'), memory, read });
  return {
    state,
    source: name => sources.open(name),
    async close() {
      cache.flush();
      await sources.close();
    },
  };
}
