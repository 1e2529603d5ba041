import { existsSync, realpathSync, statSync } from 'node:fs';
import path from 'node:path';
import { InputError } from '@kinprint/mesh';
import {
  openRepository,
  parseRevisionSpec,
  type Repository,
  type Snapshot,
  snapshotFromGit,
  snapshotFromPath,
} from '@kinprint/registry';

/** The two states to compare, opened; `close` gives back what they hold. */
export interface Sides {
  readonly before: Snapshot;
  readonly after: Snapshot;
  close(): Promise<void>;
}

/**
 * Opens what BEFORE and AFTER name: files, directories, or git states of a repository.
 *
 * @throws InputError for what is not there, or does not go together
 */
export async function openSides(
  before: string,
  after: string | undefined,
  repo: string | undefined,
  cwd: string,
): Promise<Sides> {
  const sides =
    repo === undefined
      ? fromPaths(before, after, cwd)
      : await fromRepository(before, after, path.resolve(cwd, repo));
  if (sides.before.kind !== sides.after.kind) {
    await sides.close();
    const [file, folder] =
      sides.before.kind === 'file' ? [sides.before, sides.after] : [sides.after, sides.before];
    throw new InputError(
      'file-against-folder',
      `'${file.name}' is one file, '${folder.name}' is a folder.`,
      'Name two files, or two folders.',
    );
  }
  return sides;
}

function fromPaths(before: string, after: string | undefined, cwd: string): Sides {
  if (after === undefined || looksLikeRange(before, cwd)) {
    const range = before.includes('..') && !existsSync(path.resolve(cwd, before));
    throw new InputError(
      'after-missing',
      range ? `'${before}' looks like a range of git revisions.` : 'There is nothing to compare with.',
      range
        ? `Add --repo: kinprint compare --repo . ${before}`
        : 'Name two files or two folders: kinprint compare BEFORE AFTER',
    );
  }
  const open = (name: string): Snapshot => ({ ...snapshotFromPath(path.resolve(cwd, name)), name });
  const sides = { before: open(before), after: open(after) };
  return { ...sides, close: () => closeBoth(sides.before, sides.after) };
}

async function fromRepository(before: string, after: string | undefined, folder: string): Promise<Sides> {
  const repository = await openRepository(folder);
  try {
    const [first, second] = parseRevisionSpec(before);
    if (second !== undefined && after !== undefined) {
      throw new InputError(
        'range-and-after',
        `'${before}' already names both states.`,
        `Leave '${after}' out, or name two revisions without '..'.`,
      );
    }
    const [afterSpec] = after === undefined ? [second] : parseRevisionSpec(after);
    const from = await snapshotFromGit(repository, first);
    const to =
      afterSpec === undefined
        ? workingFiles(repository, folder, first.path)
        : await snapshotFromGit(repository, afterSpec);
    return {
      before: from,
      after: to,
      close: async () => {
        await closeBoth(from, to);
        await repository.close();
      },
    };
  } catch (error) {
    await repository.close();
    throw error;
  }
}

/** A single revision is compared with the files as they lie in the repository's folder. */
function workingFiles(repository: Repository, folder: string, below: string): Snapshot {
  const place = path.join(folder, below);
  if (!existsSync(place) || (below === '' && !statSync(place).isDirectory())) {
    throw new InputError(
      'after-missing',
      `There is no '${below}' in the repository's folder to compare with.`,
      'Name a second revision.',
      { file: folder },
    );
  }
  // A link on the way could lead out of the repository, which is a stranger's.
  if (
    path.relative(realpathSync(folder), realpathSync(place)) !==
    path.normalize(below || '.').replace(/^\.$|[/\\]$/g, '')
  ) {
    throw new InputError(
      'after-is-link',
      `'${below}' is reached through a link.`,
      'Name the file or folder it leads to.',
      {
        file: folder,
      },
    );
  }
  return {
    ...snapshotFromPath(place, `git-${repository.objects.format}`),
    name: below === '' ? 'working files' : `${below} (working file)`,
  };
}

function looksLikeRange(text: string, cwd: string): boolean {
  return /\.\.(?![/\\.])/.test(text) && !existsSync(path.resolve(cwd, text));
}

async function closeBoth(a: Snapshot, b: Snapshot): Promise<void> {
  await a.close();
  await b.close();
}
