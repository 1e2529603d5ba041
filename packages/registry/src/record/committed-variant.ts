import { readDocument, type RevisionEntry } from '@kinprint/manifest';
import type { Head } from '../git/head.ts';
import { runOwnGit } from '../git/own-program.ts';
import { must } from '../git/store-files.ts';
import { variantFile } from '../state/registry-files.ts';
import type { VariantState } from '../state/types.ts';

/** A variant as the branch has it. */
export interface CommittedVariant {
  /** The id of its folder's tree: whether anybody touched it; null when the branch does not have it. */
  readonly tree: string | null;
  /** What its manifest lists; empty when there is none, or it cannot be read. */
  readonly revisions: readonly RevisionEntry[];
}

/** @throws InputError `git-refused` */
export async function committedVariant(
  root: string,
  head: Head,
  variant: VariantState,
): Promise<CommittedVariant> {
  if (head.commit === null) return { tree: null, revisions: [] };
  const folder = `${head.prefix}${variant.folder}`;
  const at = await runOwnGit(root, ['rev-parse', '-q', '--verify', `${head.commit}:${folder}`]);
  if (at.code !== 0) return { tree: null, revisions: [] };
  const tree = at.out.toString('latin1').trim();
  const manifest = await runOwnGit(root, ['rev-parse', '-q', '--verify', `${tree}:${variantFile}`]);
  if (manifest.code !== 0) return { tree, revisions: [] };
  const blob = await runOwnGit(root, ['cat-file', 'blob', manifest.out.toString('latin1').trim()]);
  must(blob);
  const document = readDocument('variant', blob.out.toString('utf8'), variant.document.file);
  return { tree, revisions: document.value?.revisions ?? [] };
}
