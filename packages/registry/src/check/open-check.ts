import { cachedReader } from '../cache/read-document-cached.ts';
import { hashMemory } from '../cache/hash-memory.ts';
import type { Cache } from '../cache/cache.ts';
import { openRepository, type Repository } from '../git/repository.ts';
import { repositoryPrefix, revisionContent, stateHistory } from '../history/content-at.ts';
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
  readonly options: Required<Pick<CheckOptions, 'recorded' | 'contentOf' | 'cache'>>;
  /** Gives back what is held open (git processes). */
  close(): Promise<void>;
}

/**
 * Opens a registry as it lies in its folder, or as a commit has it.
 *
 * @param root the folder that holds registry.yaml
 * @param at a git revision; null for the folder
 * @throws InputError for a revision or repository that cannot be read
 */
export async function openCheck(root: string, at: string | null, cache: Cache): Promise<OpenCheck> {
  const memory = hashMemory(cache);
  const prefix = await repositoryPrefix(root);
  // Without a repository there is no history; a revision asked for is then an error that names the folder.
  const repository = prefix === null && at === null ? null : await openRepository(root);
  const history = stateHistory(root, memory);
  const close = async (): Promise<void> => {
    await Promise.all([history.close(), repository?.close()]);
  };
  try {
    const files =
      at === null || repository === null
        ? workingFiles(root, memory)
        : await commitFiles(repository, at, prefix ?? '', memory);
    const state = await readRegistry(files, cachedReader(cache));
    const recorded = repository === null ? null : await recordedHere(repository, prefix ?? '', cache);
    return {
      state,
      options: {
        cache,
        recorded,
        contentOf: (address, letter) => contentOf(state, address, letter, history),
      },
      close,
    };
  } catch (error) {
    await close();
    throw error;
  }
}

/** Paths of manifests counted from the registry's root, which may be a folder of the repository. */
async function recordedHere(
  repository: Repository,
  prefix: string,
  cache: Cache,
): Promise<ReadonlyMap<string, readonly Recording[]>> {
  const below = prefix === '' ? '' : `${prefix}/`;
  const all = await recordedLetters(repository, cache);
  return new Map(
    [...all].flatMap(([path, r]) => (path.startsWith(below) ? [[path.slice(below.length), r]] : [])),
  );
}

async function contentOf(
  state: RegistryState,
  address: string,
  letter: string,
  history: ReturnType<typeof stateHistory>,
): Promise<Content | null> {
  const found = await revisionContent(state, address, letter, history);
  const manifest = found.found ? found.content.document.value : null;
  if (!found.found || manifest === null) return null;
  const { files, folder, refs } = found.content;
  return { files, folder, manifest, refs };
}
