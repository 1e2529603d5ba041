import type { ReadDocument } from '@kinprint/manifest';
import { InputError } from '@kinprint/mesh';
import { registryDefaults } from '../defaults.ts';
import { readAndClose } from '../snapshot/read-and-close.ts';
import type { Repository } from '../git/repository.ts';
import { variantFile, type FileRef, type HashMemory, type RegistryFiles } from '../state/registry-files.ts';
import type { Unread } from './gaps.ts';
import type { ManifestVersion, Sweep } from './manifest-versions.ts';
import { sweepManifests } from './sweep.ts';
import { variantAt } from './variant-at.ts';

/** A recorded revision, as a manifest names it. */
export interface RevisionKey {
  readonly letter: string;
  readonly digest: string;
}

/** The content of a revision, found. */
export interface RevisionContent {
  /** Of its folder alone; paths as the registry has them now or had them then. */
  readonly files: RegistryFiles;
  readonly folder: string;
  readonly document: ReadDocument<'variant'>;
  /** Everything but variant.yaml. */
  readonly refs: readonly FileRef[];
  /** The commit it was found in; null for the present content of a working copy. */
  readonly commit: string | null;
  /** The time of that commit, in seconds since 1970. */
  readonly time: number | null;
}

/**
 * Why a revision's content cannot be had.
 *
 * - `no-repository`: the registry lies in no git repository.
 * - `shallow`: the history here is cut off, and the revision is not in what is left of it.
 * - `not-in-history`: no commit holds this content, for example because several letters were squashed into one.
 * - `unreadable`: a commit may hold it, but some of its files cannot be read (missing objects, unreadable files).
 */
export type MissingContent = 'no-repository' | 'shallow' | 'not-in-history' | 'unreadable';

export type Found =
  | { readonly found: true; readonly content: RevisionContent }
  | { readonly found: false; readonly reason: MissingContent; readonly text: string };

/** Where the recorded revisions of a repository are, found without a checkout. */
export interface History {
  /** What of it could not be read, and therefore holds nothing that `find` could find. */
  readonly unread: readonly Unread[];
  /**
   * The content that a letter was recorded for: at the first commit whose manifest ends with that revision and whose
   * folder has that digest, whatever the folder was called; failing that, at the first commit that has the content.
   *
   * @param hint the folder it lies in now, from the repository's root: looked at first
   */
  find(revision: RevisionKey, hint?: string): Promise<Found>;
}

/**
 * Opens the history of a repository: one sweep over its commits, and the content of every manifest version, read
 * once. Manifests are searched for a digest's text, and only those that hold it are parsed.
 *
 * @param swept where the sweep has been made before
 * @throws InputError `git-stalled`
 */
export async function openHistory(
  repository: Repository,
  memory: HashMemory | null = null,
  swept: Sweep | null = null,
): Promise<History> {
  const sweep = swept ?? (await sweepManifests(repository));
  const { byDigest, unread: manifests } = await indexDigests(repository, sweep.versions);
  const unread = [...sweep.unread, ...manifests];
  const answers = new Map<string, Promise<Found>>();

  async function contentOf(
    version: ManifestVersion,
    digest: string,
  ): Promise<RevisionContent | 'other' | 'unreadable'> {
    const folder = version.path.slice(0, -variantFile.length - 1);
    try {
      const there = await variantAt(repository, version.commit, folder, folder, version.path, memory);
      if (there === null || (await there.digest()) !== digest) return 'other';
      const { files, document, refs } = there;
      return { files, folder, document, refs, commit: version.commit, time: version.time };
    } catch (error) {
      if (error instanceof InputError) return 'unreadable';
      throw error;
    }
  }

  async function search({ letter, digest }: RevisionKey, hint: string | undefined): Promise<Found> {
    const named = byDigest.get(digest) ?? [];
    const here = (version: ManifestVersion) =>
      hint !== undefined && version.path === `${hint}/${variantFile}`;
    const candidates = [...named.filter(here), ...named.filter(version => !here(version))];
    let unreadable = 0;
    let second: RevisionContent | null = null;
    for (const version of candidates) {
      const content = await contentOf(version, digest);
      if (content === 'unreadable') unreadable++;
      if (typeof content === 'string') continue;
      if (content.document.value?.revisions?.at(-1)?.letter === letter) return { found: true, content };
      second ??= content;
    }
    if (second !== null) return { found: true, content: second };
    return { found: false, ...absence(repository, unreadable + unread.length) };
  }

  return {
    unread,
    find(revision, hint) {
      const key = `${revision.letter} ${revision.digest} ${hint ?? ''}`;
      const known = answers.get(key) ?? search(revision, hint);
      answers.set(key, known);
      return known;
    },
  };
}

function absence(
  repository: Repository,
  unreadable: number,
): { readonly reason: MissingContent; readonly text: string } {
  if (unreadable > 0)
    return {
      reason: 'unreadable',
      text: repository.partial
        ? 'This is a partial clone, which does not hold all that was recorded.'
        : 'Objects that may hold it are missing or damaged.',
    };
  if (repository.shallow)
    return { reason: 'shallow', text: 'This is a shallow clone: older commits are not in it until fetched.' };
  return {
    reason: 'not-in-history',
    text: 'No commit holds its content (several letters squashed into one?).',
  };
}

/** Which manifest versions name a digest anywhere in their text, and which have no text here. */
async function indexDigests(
  repository: Repository,
  versions: readonly ManifestVersion[],
): Promise<{
  readonly byDigest: ReadonlyMap<string, readonly ManifestVersion[]>;
  readonly unread: readonly Unread[];
}> {
  const unread: Unread[] = [];
  const blobs = [...new Set(versions.map(version => version.blob))];
  const digests = new Map<string, readonly string[]>();
  for (let at = 0; at < blobs.length; at += batch) {
    await Promise.all(
      blobs.slice(at, at + batch).map(async id => {
        const object = await repository.objects.read(id);
        if (object.state !== 'found') {
          unread.push({ what: 'manifest', state: object.state, reference: null, id });
          return;
        }
        if (object.type !== 'blob' || object.content.size > registryDefaults.maxDocumentBytes) {
          object.content.close();
          return;
        }
        const text = Buffer.from(readAndClose(object.content)).toString('latin1');
        digests.set(id, [...new Set(text.match(/sha256:[0-9a-f]{64}/g) ?? [])]);
      }),
    );
  }
  const index = new Map<string, ManifestVersion[]>();
  for (const version of versions) {
    for (const digest of digests.get(version.blob) ?? []) {
      const list = index.get(digest);
      if (list === undefined) index.set(digest, [version]);
      else list.push(version);
    }
  }
  return { byDigest: index, unread };
}

/** Objects asked for at a time. */
const batch = 512;
