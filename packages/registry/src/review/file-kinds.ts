import type { RegistryState } from '../state/types.ts';
import type { FileChange, FileKind } from './types.ts';
import { vettingRecord } from '../vetting/vetting-record.ts';

/** A file in which two states differ, from the repository's root. */
export type PathChange = Pick<FileChange, 'path' | 'change'>;

/**
 * Says of each file what it is to the registry: by its place, and for records of vetting by what they hold.
 *
 * @param root what paths of the registry begin with in the repository: empty, or a folder with a slash at its end
 */
export async function withKinds(
  changes: readonly PathChange[],
  root: string,
  before: RegistryState,
  after: RegistryState,
): Promise<FileChange[]> {
  const found: FileChange[] = [];
  for (const each of changes) {
    const path = each.path.startsWith(root) ? each.path.slice(root.length) : null;
    const kind = path === null ? 'other' : await kindOf(path, each.change === 'removed' ? before : after);
    found.push({ ...each, kind });
  }
  return found;
}

async function kindOf(path: string, state: RegistryState): Promise<FileKind> {
  if (path === 'registry.yaml') return 'registry';
  if (/^devices\/[^/]+\/device\.yaml$/.test(path)) return 'device';
  if (/^advisories\/[^/]+\.yaml$/.test(path)) return 'advisory';
  const ref = state.vetting.find(each => each.path === path);
  return (ref === undefined ? null : (await vettingRecord(state.files, ref))?.kind) ?? 'other';
}
