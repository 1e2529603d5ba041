import type { RevisionEntry } from '@kinprint/manifest';
import { InputError } from '@kinprint/mesh';
import { readHead } from '../git/head.ts';
import type { RegistryState, VariantState } from '../state/types.ts';
import { committedVariant } from './committed-variant.ts';

/**
 * The last revision that the branch has and the manifest in the folder lacks: its recording was interrupted, or the
 * manifest was put back. Null where there is none, or no branch is checked out.
 */
export async function unfinishedRecord(
  state: RegistryState,
  variant: VariantState,
): Promise<RevisionEntry | null> {
  const root = state.files.root;
  if (root === null) return null;
  try {
    const { revisions } = await committedVariant(root, await readHead(root), variant);
    const here = variant.document.value?.revisions ?? [];
    return revisions.length > here.length ? (revisions.at(-1) ?? null) : null;
  } catch (error) {
    if (error instanceof InputError) return null;
    throw error;
  }
}
