import { InputError } from '@kinprint/mesh';
import { didYouMean, nearestNames } from '../git/nearest.ts';
import { openRepository, type Repository } from '../git/repository.ts';
import { runGit } from '../git/program.ts';
import { standing, unusableManifest } from '../state/digest.ts';
import type { HashMemory } from '../state/registry-files.ts';
import type { RegistryState, VariantState } from '../state/types.ts';
import { openHistory, type Found, type History, type RevisionContent } from './history.ts';

/** A registry's own history, opened when first asked for. */
export interface StateHistory {
  /** null where the registry lies in no git repository. */
  open(): Promise<History | null>;
  close(): Promise<void>;
}

/** @param folder the registry's folder, or any in its repository */
export function stateHistory(folder: string, memory: HashMemory | null = null): StateHistory {
  let repository: Promise<Repository | null> | null = null;
  let history: Promise<History | null> | null = null;
  const openRepo = (): Promise<Repository | null> =>
    openRepository(folder).catch((error: unknown) => {
      if (error instanceof InputError && error.code === 'repository-not-found') return null;
      throw error;
    });
  return {
    open() {
      repository ??= openRepo();
      history ??= repository.then(opened => (opened === null ? null : openHistory(opened, memory)));
      return history;
    },
    async close() {
      await (await repository)?.close();
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
      letters === '' ? 'Nothing is recorded of it yet.' : `Recorded are: ${letters}.`,
      { file: variant.document.file },
    );
  }
  const now = await standing(state, address);
  if (now.digest === entry.digest) return { found: true, content: presentContent(state, variant) };
  const opened = await history.open();
  if (opened === null)
    return { found: false, reason: 'no-repository', text: 'The registry lies in no git repository.' };
  return opened.find(entry, variant.folder);
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
