import { runGit } from '../git/program.ts';
import type { Repository } from '../git/repository.ts';
import { pathText } from '../snapshot/path-text.ts';
import { variantFile } from '../state/registry-files.ts';
import type { ManifestVersion, Sweep } from './manifest-versions.ts';
import { walkHistory } from './walk-history.ts';

/**
 * Every version of every manifest that any branch or tag reaches, in one call of git: parents before children,
 * merges with what they themselves changed, renamed folders under each of their names.
 *
 * @remarks `log --raw` compares trees only; it reads no file's content and runs nothing that a configuration names
 *   (signatures are not asked for). It gives up on the first object that it cannot read, and then the history is
 *   walked object by object instead.
 * @throws InputError `git-stalled`
 */
export async function sweepManifests(repository: Repository): Promise<Sweep> {
  const answer = await runGit(repository.name, [
    'log',
    '--all',
    '--full-history',
    '--topo-order',
    '--reverse',
    '-m',
    '--root',
    '--no-follow',
    '--raw',
    '-z',
    '--no-abbrev',
    '--no-renames',
    '--no-ext-diff',
    '--no-textconv',
    '--no-show-signature',
    '--no-notes',
    '--no-mailmap',
    '--no-color',
    '--ignore-submodules',
    '--encoding=UTF-8',
    '--format=commit %H %ct',
    '--',
    `:(top,glob)**/${variantFile}`,
  ]);
  // A warning may be of a reference that was left out.
  return answer.code === 0 && answer.err === ''
    ? { versions: parseSweep(answer.out), unread: [] }
    : walkHistory(repository);
}

/**
 * Reads what `log --raw -z` prints: a commit's line, and for each file `:mode mode id id status`, then its path, all
 * ended by NUL (git-diff-tree manual, RAW OUTPUT FORMAT). A merge appears once for each parent; versions found
 * twice are given once.
 */
export function parseSweep(bytes: Uint8Array): ManifestVersion[] {
  const versions: ManifestVersion[] = [];
  const seen = new Set<string>();
  let commit = '';
  let time = 0;
  for (let at = 0; at < bytes.length;) {
    const end = endOf(bytes, at);
    const token = Buffer.from(bytes.subarray(at, end)).toString('latin1').replace(/^\n+/, '');
    at = end + 1;
    const head = /^commit ([0-9a-f]{40,64}) (-?[0-9]+)$/.exec(token);
    if (head !== null) {
      commit = head[1];
      time = Number(head[2]);
      continue;
    }
    const raw = /^:[0-7]{6} ([0-7]{6}) [0-9a-f]{40,64} ([0-9a-f]{40,64}) [A-Z][0-9]*$/.exec(token);
    if (raw === null) continue;
    const pathEnd = endOf(bytes, at);
    const path = pathText(bytes.subarray(at, pathEnd));
    at = pathEnd + 1;
    const key = `${commit} ${path}`;
    // Regular files only: 120000 is a link, 000000 a deletion.
    if (!raw[1].startsWith('100') || commit === '' || seen.has(key)) continue;
    seen.add(key);
    versions.push({ commit, time, path, blob: raw[2] });
  }
  return versions;
}

function endOf(bytes: Uint8Array, from: number): number {
  const end = bytes.indexOf(0, from);
  return end < 0 ? bytes.length : end;
}
