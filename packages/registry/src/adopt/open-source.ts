import path from 'node:path';
import { InputError, type Note } from '@kinprint/mesh';
import { openRepository, type Repository } from '../git/repository.ts';
import { repositoryPrefix } from '../history/content-at.ts';
import { registryFile, registryFolders } from '../state/registry-files.ts';
import { requireFolder, sourceFromFolder } from './source/from-folder.ts';
import { sourceFromGit } from './source/from-git.ts';
import type { Source } from './source/types.ts';

export interface OpenSourceOptions {
  /** A branch, a tag, a commit of the repository. */
  readonly at?: string;
  /** Take what is there now, without what was before. */
  readonly noHistory?: boolean;
  /** The registry's root: where it is what is adopted, its own folders are not looked at. */
  readonly registry: string | null;
}

/**
 * What a person named: a git repository, or a folder that one has in its last commit, with its history; else a
 * folder as it lies.
 *
 * @throws InputError `file-not-found`, `file-not-regular`, `repository-not-found` (with `at`), `revision-unknown` …
 */
export async function openAdoptSource(place: string, options: OpenSourceOptions): Promise<Source> {
  requireClone(place);
  const repository = await repositoryAt(place, options.at !== undefined);
  if (repository === null) return sourceFromFolder(place);
  try {
    const prefix = (await repositoryPrefix(place)) ?? '';
    const skip = skipsRegistry(place, options.registry);
    const source = await historyOf(repository, prefix, skip, options);
    if (source === null) {
      await repository.close();
      return sourceFromFolder(place);
    }
    return options.at === undefined ? withUncommitted(source, place, repository, skip) : source;
  } catch (error) {
    await repository.close();
    throw error;
  }
}

/** A folder; an address is told what to do with it. */
function requireClone(place: string): void {
  if (/^[a-z][a-z0-9+.-]*:\/\//i.test(place))
    throw new InputError(
      'file-not-found',
      'This is an address, not a folder.',
      'Clone it first: git clone ADDRESS, then adopt the clone.',
      {
        file: place,
      },
    );
  requireFolder(place);
}

async function repositoryAt(place: string, needed: boolean): Promise<Repository | null> {
  try {
    return await openRepository(place);
  } catch (error) {
    const none =
      error instanceof InputError && (error.code === 'repository-not-found' || error.code === 'git-missing');
    if (none && !needed) return null;
    throw error;
  }
}

function skipsRegistry(place: string, registry: string | null): (name: string) => boolean {
  if (registry === null || path.resolve(place) !== path.resolve(registry)) return () => false;
  const own = new Set([registryFile, ...registryFolders, 'schemas']);
  return name => own.has(name);
}

/** null when the last commit has no mesh there: the folder is not kept in this repository. */
async function historyOf(
  repository: Repository,
  prefix: string,
  skip: (name: string) => boolean,
  options: OpenSourceOptions,
): Promise<Source | null> {
  try {
    const source = await sourceFromGit(repository, {
      prefix,
      skip,
      ...(options.at === undefined ? {} : { at: options.at }),
      noHistory: options.noHistory ?? false,
    });
    const now = source.states[source.states.length - 1];
    return options.at === undefined && !now.files.some(file => file.kind === 'mesh') ? null : source;
  } catch (error) {
    const absent = error instanceof InputError && ['path-not-found', 'revision-unknown'].includes(error.code);
    if (absent && options.at === undefined) return null;
    throw error;
  }
}

/** Says where the working copy differs from what was committed, which is what is adopted. */
function withUncommitted(
  source: Source,
  place: string,
  { objects }: Repository,
  skip: (name: string) => boolean,
): Source {
  const here = meshesHere(place, `git-${objects.format}`, skip);
  if (here === null) return source;
  const committed = new Map(
    source.states[source.states.length - 1].files.flatMap(file =>
      // Large files are known by another digest than the one git gives the file.
      file.kind === 'mesh' && file.digest?.startsWith('git-') === true
        ? [[file.path, file.digest] as const]
        : [],
    ),
  );
  const differing = [...committed]
    .filter(([file, digest]) => here.get(file) !== digest)
    .map(([file]) => file);
  const added = [...here.keys()].filter(
    file => !source.states[source.states.length - 1].files.some(known => known.path === file),
  );
  const names = [...differing, ...added].sort();
  if (names.length === 0) return source;
  const shown = names.slice(0, 3).join(', ') + (names.length > 3 ? ` and ${names.length - 3} more` : '');
  const note: Note = {
    code: 'uncommitted',
    text: `What is committed is adopted; these differ in the working copy: ${shown}.`,
  };
  return { ...source, notes: [...source.notes, note] };
}

/** The meshes of a working copy; null for a bare repository, which has none. */
function meshesHere(
  place: string,
  kind: 'git-sha1' | 'git-sha256',
  skip: (name: string) => boolean,
): Map<string, string> | null {
  const { states } = sourceFromFolder(place, kind);
  const meshes = states[0].files.filter(file => file.kind === 'mesh' && !skip(file.path.split('/')[0]));
  if (meshes.length === 0) return null;
  return new Map(meshes.map(file => [file.path, file.digest ?? '']));
}
