import { contentDigest, type Digest, type RevisionEntry, type VariantDocument } from '@kinprint/manifest';
import { InputError } from '@kinprint/mesh';
import { manifestInputError } from '../manifest-input-error.ts';
import type { FileRef, RegistryFiles } from './registry-files.ts';
import type { RegistryState, VariantState } from './types.ts';

/**
 * The digest of a variant's present content; docs/digest.md says what it covers.
 *
 * @throws InputError `variant-unknown`, `manifest-unusable`, or what keeps a file from being read
 */
export async function variantDigest(state: RegistryState, address: string): Promise<Digest> {
  const variant = state.variants.get(address);
  if (variant === undefined)
    throw new InputError('variant-unknown', `There is no variant '${address}'.`, 'Check the address.');
  const manifest = variant.document.value;
  if (manifest === null) throw unusableManifest(variant);
  return folderDigest(state.files, variant.folder, manifest, variant.files);
}

/**
 * The digest of a folder's content as a variant. Links and special files have no content and are not counted.
 *
 * @param refs the files below the folder, without variant.yaml
 * @throws InputError what keeps a file from being read, or its name from being listed
 */
export async function folderDigest(
  files: RegistryFiles,
  folder: string,
  manifest: VariantDocument,
  refs: readonly FileRef[],
): Promise<Digest> {
  const regular = refs.filter(ref => ref.problem?.code !== 'not-regular');
  const hashed = await Promise.all(
    regular.map(async ref => ({
      path: ref.path.slice(folder.length + 1),
      sha256: await files.sha256(ref),
    })),
  );
  try {
    return await contentDigest(manifest, hashed);
  } catch (error) {
    throw manifestInputError(error, folder);
  }
}

export function unusableManifest(variant: VariantState): InputError {
  const first = variant.document.problems.find(problem => problem.severity === 'error');
  return new InputError(
    'manifest-unusable',
    first?.text ?? 'The manifest cannot be used.',
    first?.remedy ?? 'Run kinprint check.',
    first === undefined
      ? { file: variant.document.file }
      : { file: first.file, line: first.line, column: first.column },
  );
}

/**
 * How a variant's present content stands to what was recorded last.
 *
 * - `unrecorded`: no letter yet.
 * - `recorded`: it is the content of the last letter.
 * - `changed`: it is not.
 * - `unknown`: it cannot be told, because the manifest or a file cannot be read; `reason` says which.
 */
export interface Standing {
  readonly status: 'unrecorded' | 'recorded' | 'changed' | 'unknown';
  readonly last: RevisionEntry | null;
  /** Of the present content; null when it cannot be computed. */
  readonly digest: Digest | null;
  readonly reason: string | null;
}

/** @throws InputError `variant-unknown` */
export async function standing(state: RegistryState, address: string): Promise<Standing> {
  const last = state.variants.get(address)?.document.value?.revisions?.at(-1) ?? null;
  try {
    const digest = await variantDigest(state, address);
    const status = last === null ? 'unrecorded' : last.digest === digest ? 'recorded' : 'changed';
    return { status, last, digest, reason: null };
  } catch (error) {
    if (!(error instanceof InputError) || error.code === 'variant-unknown') throw error;
    const where = error.place.file === undefined ? '' : `${error.place.file}: `;
    return { status: 'unknown', last, digest: null, reason: `${where}${error.message}` };
  }
}
