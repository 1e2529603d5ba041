import { lstatSync } from 'node:fs';
import path from 'node:path';
import { InputError } from '@kinprint/mesh';
import type { Head } from '../git/head.ts';
import { storeFiles, storeText } from '../git/store-files.ts';
import { storedBelow, type StoredFile, type TreeChange } from '../git/write-commit.ts';
import { deviceFile, registryFile, variantFile } from '../state/registry-files.ts';
import type { VariantState } from '../state/types.ts';
import type { CommittedVariant } from './committed-variant.ts';

/** What a recording changes in the tree, and what is already in the object store. */
export interface CommitPlan {
  readonly change: TreeChange;
  readonly stored: ReadonlyMap<string, string>;
}

/**
 * Puts the variant's files into the object store and says how the tree changes: its folder becomes what is here
 * (hidden files stay as they are), and registry.yaml, device.yaml and .gitattributes are taken along where the branch
 * does not have them yet, because nothing can be read without them.
 *
 * @param text of the manifest to commit
 * @param before a plan for an earlier state of the branch: what it stored is not stored again
 * @throws InputError `git-refused`, `path-unsafe`, `file-filtered`, `not-regular`
 */
export async function planCommit(
  root: string,
  head: Head,
  variant: VariantState,
  committed: CommittedVariant,
  text: string,
  before: CommitPlan | null,
): Promise<CommitPlan> {
  const there =
    committed.tree === null ? [] : await storedBelow(root, head.commit, head.prefix + variant.folder);
  const modes = new Map(there.map(file => [file.path, file.mode]));
  const manifest = `${variant.folder}/${variantFile}`;
  const stored = new Map(before?.stored ?? []);
  const companions = [registryFile, '.gitattributes', `devices/${variant.device}/${deviceFile}`].filter(
    file => isFile(path.join(root, file)),
  );
  const absent: string[] = [];
  for (const file of companions)
    if ((await storedBelow(root, head.commit, head.prefix + file)).length === 0) absent.push(file);

  const irregular = variant.files.find(ref => ref.problem?.code === 'not-regular');
  if (irregular !== undefined)
    throw new InputError(
      'not-regular',
      irregular.problem?.text ?? '',
      'A revision holds files alone: put the file itself in its place.',
      { file: irregular.path },
    );
  const paths = [...variant.files.map(ref => ref.path), ...absent];
  const todo = paths.filter(file => !stored.has(file));
  const ids = todo.length === 0 ? [] : await storeFiles(root, head, todo);
  todo.forEach((file, k) => stored.set(file, ids[k]));
  const manifestId = stored.get(manifest) ?? (await storeText(root, text));
  stored.set(manifest, manifestId);

  const put = [...paths, manifest].map((file): StoredFile => {
    const full = head.prefix + file;
    const mode = modes.get(full);
    return { path: full, id: stored.get(file) ?? '', mode: mode === '100755' ? mode : '100644' };
  });
  const kept = new Set(put.map(file => file.path));
  const drop = there.map(file => file.path).filter(file => !kept.has(file) && !isHidden(file, head, variant));
  return { change: { put, drop }, stored };
}

function isHidden(file: string, head: Head, variant: VariantState): boolean {
  const inside = file.slice(head.prefix.length + variant.folder.length + 1);
  return inside.split('/').some(step => step.startsWith('.'));
}

function isFile(file: string): boolean {
  return lstatSync(file, { throwIfNoEntry: false })?.isFile() ?? false;
}
