import { InputError } from '@kinprint/mesh';
import { didYouMean, nearestNames } from '../git/nearest.ts';
import { openRepository, type Repository } from '../git/repository.ts';
import { runGit } from '../git/program.ts';
import { standing, unusableManifest } from '../state/digest.ts';
import type { HashMemory } from '../state/registry-files.ts';
import type { RegistryState, VariantState } from '../state/types.ts';
import { gapsOf, type HistoryGap } from './gaps.ts';
import { openHistory, type Found, type History, type RevisionContent } from './history.ts';
import type { Sweep } from './manifest-versions.ts';
import { sweepManifests } from './sweep.ts';

/** A registry's own repository and history, each opened when first asked for; null where it lies in none. */
export interface StateHistory {
  /** Stays open until the history is closed. */
  repository(): Promise<Repository | null>;
  /** The registry's folder in its repository: empty for the root, no slash at the end. */
  prefix(): Promise<string>;
  sweep(): Promise<Sweep | null>;
  open(): Promise<History | null>;
  /** What of the history could not be read, as far as it was asked for. */
  gaps(): Promise<readonly HistoryGap[]>;
  close(): Promise<void>;
}

/** @param folder the registry's folder, or any in its repository */
export function stateHistory(folder: string, memory: HashMemory | null = null): StateHistory {
  let opened: Promise<Repository | null> | null = null;
  let place: Promise<string | null> | null = null;
  let swept: Promise<Sweep | null> | null = null;
  let history: Promise<History | null> | null = null;
  const repository = (): Promise<Repository | null> =>
    (opened ??= openRepository(folder).catch((error: unknown) => {
      if (error instanceof InputError && error.code === 'repository-not-found') return null;
      throw error;
    }));
  const sweep = (): Promise<Sweep | null> =>
    (swept ??= repository().then(found => (found === null ? null : sweepManifests(found))));
  const open = async (): Promise<History | null> => {
    const found = await repository();
    return found === null ? null : openHistory(found, memory, await sweep());
  };
  return {
    repository,
    prefix: async () => (await (place ??= repositoryPrefix(folder))) ?? '',
    sweep,
    open: () => (history ??= open()),
    async gaps() {
      const unread = (await history)?.unread ?? (await swept)?.unread ?? [];
      return gapsOf(unread, (await opened)?.partial ?? false);
    },
    async close() {
      await (await opened)?.close();
    },
  };
}

/** The registry's folder in its repository: empty for the root, no slash at the end; null without a repository. */
export async function repositoryPrefix(root: string): Promise<string | null> {
  const answer = await runGit(root, ['rev-parse', '--show-prefix']);
  return answer.code === 0 ? answer.out.toString('utf8').replace(/\n$/, '').replace(/\/$/, '') : null;
}

/**
 * The variant of an address.
 *
 * @throws InputError `variant-unknown` with the nearest names
 */
export function variantOf(state: RegistryState, address: string): VariantState {
  const variant = state.variants.get(address);
  if (variant !== undefined) return variant;
  const near = nearestNames(address, state.variants.keys());
  const short = [...state.variants.keys()].filter(known => known.split('/')[1] === address);
  throw new InputError(
    'variant-unknown',
    `There is no variant '${address}' in the registry.`,
    `${didYouMean(short.length > 0 ? short.slice(0, 3) : near)}Name it as device/variant.`,
  );
}

/**
 * The content of a variant's letter: the present content where that is what was recorded, else from history.
 *
 * @throws InputError `variant-unknown`, `manifest-unusable`, `letter-unknown`
 */
export async function revisionContent(
  state: RegistryState,
  address: string,
  letter: string,
  history: StateHistory,
): Promise<Found> {
  const variant = variantOf(state, address);
  if (variant.document.value === null) throw unusableManifest(variant);
  const revisions = variant.document.value.revisions ?? [];
  const entry = revisions.find(item => item.letter === letter);
  if (entry === undefined) {
    const letters = revisions.map(item => item.letter).join(', ');
    throw new InputError(
      'letter-unknown',
      `${address} has no revision ${letter}.`,
      letters === '' ? 'Nothing is recorded of it yet.' : `Name one that is recorded: ${letters}.`,
      { file: variant.document.file },
    );
  }
  const now = await standing(state, address);
  if (now.digest === entry.digest) return { found: true, content: presentContent(state, variant) };
  const opened = await history.open();
  if (opened === null)
    return { found: false, reason: 'no-repository', text: 'The registry lies in no git repository.' };
  const prefix = await history.prefix();
  return opened.find(entry, prefix === '' ? variant.folder : `${prefix}/${variant.folder}`);
}

/** What lies in the variant's folder now. */
export function presentContent(state: RegistryState, variant: VariantState): RevisionContent {
  return {
    files: state.files,
    folder: variant.folder,
    document: variant.document,
    refs: variant.files,
    commit: state.files.commit,
    time: null,
  };
}
