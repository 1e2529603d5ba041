import type { Digest } from '@kinprint/manifest';
import type { Head } from '../git/head.ts';
import { openRepository } from '../git/repository.ts';
import { changedMeanwhile } from '../git/store-files.ts';
import { variantAt } from '../history/variant-at.ts';
import type { VariantState } from '../state/types.ts';

/**
 * Computes the digest of what is about to be committed from the object store: files that changed between being
 * hashed and being stored must not be recorded under a digest that is not theirs.
 *
 * @param tree of the whole repository
 * @throws InputError `changed-meanwhile`
 */
export async function verifyTree(
  root: string,
  tree: string,
  head: Head,
  variant: VariantState,
  digest: Digest,
): Promise<void> {
  const repository = await openRepository(root);
  try {
    const { folder, document } = variant;
    const there = await variantAt(repository, tree, head.prefix + folder, folder, document.file);
    if (there === null) throw changedMeanwhile(document.file);
    const stored = await there.digest();
    if (stored === null) throw new Error('The manifest that was written cannot be read again.');
    if (stored !== digest) throw changedMeanwhile(folder);
  } finally {
    await repository.close();
  }
}
