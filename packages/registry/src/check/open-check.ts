import { tmpdir } from 'node:os';
import path from 'node:path';
import { cachedReader } from '../cache/read-document-cached.ts';
import { cacheFolder } from '../cache/cache-folder.ts';
import { hashMemory } from '../cache/hash-memory.ts';
import type { Cache } from '../cache/cache.ts';
import { openRepository } from '../git/repository.ts';
import { revisionContent, stateHistory, type StateHistory } from '../history/content-at.ts';
import { gapsOf, type HistoryGap } from '../history/gaps.ts';
import { openSources, type OpenedSource, type Sources } from '../sources/open-sources.ts';
import { commitFiles } from '../state/commit-files.ts';
import { readRegistry } from '../state/read-registry.ts';
import type { RegistryState } from '../state/types.ts';
import { workingFiles } from '../state/working-files.ts';
import type { Content } from './likeness.ts';
import { recordedLetters, type Recording } from './recorded-letters.ts';
import type { CheckOptions } from './types.ts';

/** A registry's state with what its history knows, ready for `checkRegistry`. */
export interface OpenCheck {
  readonly state: RegistryState;
  readonly options: Required<Pick<CheckOptions, 'recorded' | 'gaps' | 'sources' | 'contentOf' | 'cache'>>;
  readonly history: StateHistory;
  /** Sources that were fetched before, with their histories. */
  openedSources(): Promise<ReadonlyMap<string, OpenedSource>>;
  /** Gives back what is held open (git processes). */
  close(): Promise<void>;
}

/**
 * Opens a registry as it lies in its folder, or as a commit has it, with those of its sources that were fetched before;
 * nothing is fetched.
 *
 * @param root the folder that holds registry.yaml
 * @param at a git revision; null for the folder
 * @param fetched the folder that holds fetched sources
 * @throws InputError for a revision or repository that cannot be read
 */
export async function openCheck(
  root: string,
  at: string | null,
  cache: Cache,
  fetched: string = cacheFolder() ?? path.join(tmpdir(), 'kinprint'),
): Promise<OpenCheck> {
  const memory = hashMemory(cache);
  const history = stateHistory(root, memory);
  let sources: Sources | null = null;
  const close = async (): Promise<void> => {
    await Promise.all([history.close(), sources?.close()]);
  };
  try {
    // Without a repository there is no history; a revision asked for is then an error that names the folder.
    const repository = (await history.repository()) ?? (at === null ? null : await openRepository(root));
    const files =
      at === null || repository === null
        ? workingFiles(root, memory)
        : await commitFiles(repository, at, await history.prefix(), memory);
    const read = cachedReader(cache);
    const state = await readRegistry(files, read);
    // Sources given as paths are counted from the folder, also when a commit is checked.
    const here = { ...state, files: { ...files, root } };
    const opened = (sources = openSources(here, { cache: fetched, memory, read }));
    const { recorded, gaps } = await recordedHere(history, cache);
    return {
      state,
      options: {
        cache,
        recorded,
        gaps,
        sources: await opened.atHand(),
        contentOf: async (address, letter, source) => {
          if (source === null) return contentOf(state, address, letter, history);
          const other = await opened.open(source);
          return contentOf(other.state, address, letter, other.history);
        },
      },
      history,
      openedSources: () => opened.openedAtHand(),
      close,
    };
  } catch (error) {
    await close();
    throw error;
  }
}

/** Paths of manifests counted from the registry's root, which may be a folder of the repository. */
async function recordedHere(
  history: StateHistory,
  cache: Cache,
): Promise<{
  readonly recorded: ReadonlyMap<string, readonly Recording[]> | null;
  readonly gaps: readonly HistoryGap[];
}> {
  const repository = await history.repository();
  const sweep = await history.sweep();
  if (repository === null || sweep === null) return { recorded: null, gaps: [] };
  const prefix = await history.prefix();
  const below = prefix === '' ? '' : `${prefix}/`;
  const { byPath, unread } = await recordedLetters(repository, sweep, cache);
  return {
    recorded: new Map(
      [...byPath].flatMap(([path, r]) => (path.startsWith(below) ? [[path.slice(below.length), r]] : [])),
    ),
    gaps: gapsOf([...sweep.unread, ...unread], repository.partial),
  };
}

async function contentOf(
  state: RegistryState,
  address: string,
  letter: string,
  history: StateHistory,
): Promise<Content | null> {
  const found = await revisionContent(state, address, letter, history);
  const manifest = found.found ? found.content.document.value : null;
  if (!found.found || manifest === null) return null;
  const { files, folder, refs } = found.content;
  return { files, folder, manifest, refs };
}
