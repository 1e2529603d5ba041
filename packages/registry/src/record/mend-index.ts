import type { Head } from '../git/head.ts';
import { runOwnGit } from '../git/own-program.ts';
import { must } from '../git/store-files.ts';
import { refreshIndex, storedBelow } from '../git/write-commit.ts';
import { pathText } from '../snapshot/path-text.ts';
import type { VariantState } from '../state/types.ts';
import { nulRecords } from '../git/nul-records.ts';

/**
 * Tells the user's index what the last commit holds of a variant's folder, if it still says exactly what the commit
 * before held: what an interrupted recording leaves. What the user staged there is left alone.
 */
export async function mendIndex(root: string, head: Head, variant: VariantState): Promise<void> {
  if (head.commit === null) return;
  const folder = `${head.prefix}${variant.folder}`;
  const parent = await runOwnGit(root, ['rev-parse', '-q', '--verify', `${head.commit}~1`]);
  const before =
    parent.code === 0 ? await storedBelow(root, parent.out.toString('latin1').trim(), folder) : [];
  const staged = await stagedBelow(root, variant);
  const old = new Map(before.map(file => [file.path, file.id]));
  if (staged.size !== old.size || [...staged].some(([path, id]) => old.get(path) !== id)) return;
  const put = await storedBelow(root, head.commit, folder);
  const kept = new Map(put.map(file => [file.path, file.id]));
  if (kept.size === old.size && [...kept].every(([path, id]) => old.get(path) === id)) return;
  await refreshIndex(root, { put, drop: [...staged.keys()].filter(path => !kept.has(path)) });
}

/** Paths and ids that the index has below the variant's folder. */
async function stagedBelow(root: string, variant: VariantState): Promise<Map<string, string>> {
  const answer = await runOwnGit(root, ['ls-files', '-s', '-z', '--full-name', '--', variant.folder]);
  must(answer);
  const staged = new Map<string, string>();
  for (const record of nulRecords(answer.out)) {
    const tab = record.indexOf(0x09);
    const [, id, stage] = record.subarray(0, tab).toString('latin1').split(' ');
    // A conflict is the user's to settle.
    staged.set(pathText(record.subarray(tab + 1)), stage === '0' ? id : 'conflict');
  }
  return staged;
}
