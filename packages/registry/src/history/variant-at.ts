import { readDocument, type Digest, type ReadDocument } from '@kinprint/manifest';
import { registryDefaults } from '../defaults.ts';
import type { Repository } from '../git/repository.ts';
import { folderFiles } from '../state/commit-files.ts';
import { folderDigest } from '../state/digest.ts';
import { variantFile, type FileRef, type HashMemory, type RegistryFiles } from '../state/registry-files.ts';

/** A variant's folder as a commit or a tree has it. */
export interface VariantAt {
  /** Of the folder alone. */
  readonly files: RegistryFiles;
  readonly document: ReadDocument<'variant'>;
  /** Everything but variant.yaml. */
  readonly refs: readonly FileRef[];
  /** null where the manifest cannot be used. @throws InputError as `folderDigest` */
  digest(): Promise<Digest | null>;
}

/**
 * Reads a variant's folder without a checkout; null when it has no manifest.
 *
 * @param folder from the repository's root
 * @param as what the paths of its files begin with
 * @param file names the manifest in what is said of it
 * @throws InputError as `folderFiles`, or what keeps the manifest from being read
 */
export async function variantAt(
  repository: Repository,
  revision: string,
  folder: string,
  as: string,
  file: string,
  memory: HashMemory | null = null,
): Promise<VariantAt | null> {
  const files = await folderFiles(repository, revision, folder, as, memory);
  const all = await files.list();
  const manifest = all.find(ref => ref.path === `${as}/${variantFile}`);
  if (manifest === undefined) return null;
  const bytes = await files.bytes(manifest, registryDefaults.maxDocumentBytes + 1);
  const document = readDocument('variant', Buffer.from(bytes).toString(), file);
  const refs = all.filter(ref => ref !== manifest);
  const { value } = document;
  return {
    files,
    document,
    refs,
    digest: async () => (value === null ? null : folderDigest(files, as, value, refs)),
  };
}
