import type { RegistrySource } from '@kinprint/manifest';
import { InputError } from '@kinprint/mesh';
import { didYouMean, nearestNames } from '../git/nearest.ts';
import { openRepository, type Repository } from '../git/repository.ts';
import { stateHistory, type StateHistory } from '../history/content-at.ts';
import { commitFiles } from '../state/commit-files.ts';
import { readRegistry } from '../state/read-registry.ts';
import type { HashMemory } from '../state/registry-files.ts';
import type { DocumentReader, RegistryState } from '../state/types.ts';
import { fetchSource } from './fetch-source.ts';
import type { FetchLimits } from './run-fetch.ts';
import { fetchedBranch, hasCopy, sourceFolder } from './source-copy.ts';
import { sourceAddress } from './source-address.ts';

/** Another registry, as it was fetched. */
export interface OpenedSource {
  readonly name: string;
  readonly state: RegistryState;
  readonly history: StateHistory;
}

export interface SourceOptions {
  /** The folder of the cache: copies lie in it. */
  readonly cache: string;
  readonly memory?: HashMemory | null;
  readonly read?: DocumentReader;
  /** Of each fetch; for tests. */
  readonly limits?: FetchLimits;
}

/** The sources of a registry, opened as they are asked for. */
export interface Sources {
  /** The names that registry.yaml lists. */
  readonly names: readonly string[];
  /**
   * A source as it was fetched last; it is fetched first where it never was, or where `fresh` asks for it.
   *
   * @throws InputError `source-unknown`, `source-address`, `source-unreachable`,
   *   `source-too-large`, `registry-not-found`
   */
  open(name: string, fresh?: boolean): Promise<OpenedSource>;
  /** Those that were fetched before; nothing is fetched. For `checkRegistry`, `lineageOf` and the like. */
  atHand(): Promise<ReadonlyMap<string, RegistryState>>;
  /** The same, with their histories. */
  openedAtHand(): Promise<ReadonlyMap<string, OpenedSource>>;
  close(): Promise<void>;
}

/** @param state the registry that lists them */
export function openSources(state: RegistryState, options: SourceOptions): Sources {
  const listed = state.registry?.value?.sources ?? {};
  const root = state.files.root ?? '/';
  const opened = new Map<string, Promise<OpenedSource>>();
  const repositories: (Repository | StateHistory)[] = [];

  async function openFolder(name: string, folder: string): Promise<OpenedSource> {
    const repository = await openRepository(folder);
    const history = stateHistory(folder, options.memory ?? null);
    repositories.push(repository, history);
    const files = await commitFiles(repository, fetchedBranch, '', options.memory ?? null);
    const other = await readRegistry({ ...files, name }, options.read);
    if (other.registry === null)
      throw new InputError(
        'registry-not-found',
        `The source '${name}' holds no registry.yaml, so it is no registry.`,
        'Check its address and branch in registry.yaml.',
      );
    return { name, state: other, history };
  }

  const folderOf = (name: string, source: RegistrySource): string =>
    sourceFolder(options.cache, sourceAddress(source.git, root, name), source.branch);

  async function openNamed(name: string, fresh: boolean): Promise<OpenedSource> {
    const source = Object.hasOwn(listed, name) ? listed[name] : undefined;
    if (source === undefined)
      throw new InputError(
        'source-unknown',
        `registry.yaml lists no source '${name}'.`,
        `${didYouMean(nearestNames(name, Object.keys(listed)))}Add it under sources.`,
      );
    const folder = folderOf(name, source);
    if (!fresh && hasCopy(folder)) {
      try {
        return await openFolder(name, folder);
      } catch (error) {
        // A fetch that ended half-way left no branch: fetch again.
        if (!(error instanceof InputError && error.code === 'revision-unknown')) throw error;
      }
    }
    return openFolder(name, await fetchSource(root, name, source, options.cache, options.limits));
  }

  const open = (name: string, fresh = false): Promise<OpenedSource> => {
    const known = fresh ? undefined : opened.get(name);
    const source = known ?? openNamed(name, fresh);
    opened.set(name, source);
    return source;
  };

  async function openedAtHand(): Promise<ReadonlyMap<string, OpenedSource>> {
    const found = new Map<string, OpenedSource>();
    for (const [name, source] of Object.entries(listed)) {
      try {
        const folder = folderOf(name, source);
        if (!opened.has(name) && hasCopy(folder)) {
          // Kept once it was opened: what a fetch left half-way is fetched again when asked for.
          const there = await openFolder(name, folder);
          opened.set(name, Promise.resolve(there));
        }
        const known = await opened.get(name);
        if (known !== undefined) found.set(name, known);
      } catch (error) {
        if (!(error instanceof InputError)) throw error; // not at hand, whatever the reason
      }
    }
    return found;
  }

  return {
    names: Object.keys(listed),
    open,
    openedAtHand,
    async atHand() {
      return new Map([...(await openedAtHand())].map(([name, { state: other }]) => [name, other]));
    },
    async close() {
      await Promise.allSettled(opened.values());
      await Promise.all(repositories.map(repository => repository.close()));
    },
  };
}
