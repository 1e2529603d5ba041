import { readDocument, type Digest } from '@kinprint/manifest';
import { registryDefaults } from '../defaults.ts';
import type { Head } from '../git/head.ts';
import { openRepository } from '../git/repository.ts';
import { changedMeanwhile } from '../git/store-files.ts';
import { folderFiles } from '../state/commit-files.ts';
import { folderDigest } from '../state/digest.ts';
import { variantFile } from '../state/registry-files.ts';
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
    const folder = variant.folder;
    const files = await folderFiles(repository, tree, head.prefix + folder, folder);
    const all = await files.list();
    const manifest = all.find(ref => ref.path === `${folder}/${variantFile}`);
    if (manifest === undefined) throw changedMeanwhile(variant.document.file);
    const bytes = await files.bytes(manifest, registryDefaults.maxDocumentBytes + 1);
    const document = readDocument('variant', Buffer.from(bytes).toString(), variant.document.file);
    if (document.value === null) throw new Error('The manifest that was written cannot be read again.');
    const refs = all.filter(ref => ref !== manifest);
    if ((await folderDigest(files, folder, document.value, refs)) !== digest)
      throw changedMeanwhile(variant.folder);
  } finally {
    await repository.close();
  }
}
