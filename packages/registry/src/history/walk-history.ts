import { maxPeel, parseCommitHead, parseTag } from '../git/commit-head.ts';
import type { GitObject } from '../git/objects.ts';
import { readTree } from '../git/read-tree.ts';
import type { Repository } from '../git/repository.ts';
import type { TreeItem } from '../git/tree-object.ts';
import { registryDefaults } from '../defaults.ts';
import { pathText } from '../snapshot/path-text.ts';
import { readAndClose } from '../snapshot/read-and-close.ts';
import { variantFile } from '../state/registry-files.ts';
import type { Unread } from './gaps.ts';
import { listReferences, type Reference } from './references.ts';
import { shallowEnds } from './shallow-ends.ts';
import type { ManifestVersion, Sweep } from './manifest-versions.ts';

interface Commit {
  readonly id: string;
  readonly tree: string;
  readonly parents: readonly string[];
  readonly time: number;
  /** The reference that it was met through first. */
  readonly reference: string;
}

/**
 * The same as one call of `git log`, object by object: for repositories in which something is missing or damaged, on
 * which git gives up altogether. What cannot be read is named, and left out.
 *
 * @remarks Where a folder of a parent cannot be read, its manifests count as new in the child.
 * @throws InputError `git-stalled`
 */
export async function walkHistory(
  repository: Repository,
  most: number = registryDefaults.maxHistoryEntries,
): Promise<Sweep> {
  const unread: Unread[] = [];
  const { listed, broken } = await listReferences(repository);
  for (const reference of broken) unread.push({ what: 'reference', state: 'broken', reference, id: null });
  const budget = { left: most };
  const commits = await readCommits(repository, listed, unread, budget);
  const versions: ManifestVersion[] = [];
  const trees = treeReader(repository, unread);
  for (const commit of parentsFirst(commits)) {
    const found = new Map<string, string>();
    const parents = commit.parents.flatMap(id => commits.get(id)?.tree ?? []);
    for (const parent of parents.length === 0 ? [null] : parents)
      await changedManifests(trees, commit, parent, found, budget);
    for (const [path, blob] of found) versions.push({ commit: commit.id, time: commit.time, path, blob });
    if (budget.left < 0) break;
  }
  if (budget.left < 0) unread.push({ what: 'rest', state: 'too-much', reference: null, id: null });
  return { versions, unread };
}

async function readCommits(
  repository: Repository,
  references: readonly Reference[],
  unread: Unread[],
  budget: { left: number },
): Promise<Map<string, Commit>> {
  const commits = new Map<string, Commit>();
  const met = new Set<string>();
  const ends = shallowEnds(repository);
  for (const reference of references) {
    const tip = await tipOf(repository, reference.id);
    if (tip.state === 'other') continue;
    if (tip.state !== 'commit') {
      unread.push({ what: 'reference', state: tip.state, reference: reference.name, id: tip.id });
      continue;
    }
    let next = [tip.id];
    while (next.length > 0 && budget.left >= 0) {
      const ids = next.filter(id => !met.has(id)).slice(0, batch);
      const later = next.filter(id => !met.has(id)).slice(batch);
      for (const id of ids) met.add(id);
      budget.left -= ids.length;
      const read = await Promise.all(ids.map(id => repository.objects.read(id)));
      for (const [k, id] of ids.entries()) {
        const found = pointsTo(read[k]);
        if (found === 'missing' || found === 'damaged')
          unread.push({ what: 'commit', state: found, reference: reference.name, id });
        if (typeof found === 'string' || found.kind !== 'commit') continue;
        const parents = ends.has(id) ? [] : found.parents;
        commits.set(id, { ...found, id, parents, reference: reference.name });
        later.push(...parents);
      }
      next = later;
    }
  }
  return commits;
}

/** What a reference stands for, perhaps through tags. */
async function tipOf(
  { objects }: Repository,
  start: string,
): Promise<{ readonly state: 'commit' | 'missing' | 'damaged' | 'other'; readonly id: string }> {
  let id = start;
  for (let i = 0; i < maxPeel; i++) {
    const found = pointsTo(await objects.read(id));
    if (typeof found === 'string') return { state: found, id };
    if (found.kind === 'commit') return { state: 'commit', id };
    id = found.object;
  }
  return { state: 'damaged', id: start };
}

type Points =
  | { readonly kind: 'tag'; readonly object: string }
  | {
      readonly kind: 'commit';
      readonly tree: string;
      readonly parents: readonly string[];
      readonly time: number;
    };

/** What an object leads to; `other` for files and folders, which have no history. */
function pointsTo(object: GitObject): Points | 'missing' | 'damaged' | 'other' {
  if (object.state !== 'found') return object.state;
  const bytes = readAndClose(object.content, mostOfHeader);
  switch (object.type) {
    case 'commit': {
      const commit = parseCommitHead(bytes);
      return commit === null ? 'damaged' : { kind: 'commit', ...commit };
    }
    case 'tag': {
      const tagged = parseTag(bytes);
      return tagged === null ? 'damaged' : { kind: 'tag', object: tagged };
    }
    case 'tree':
    case 'blob':
      return 'other';
  }
}

/** Parents before children; commits of a circle, which only a forged store has, in some order. */
function* parentsFirst(commits: ReadonlyMap<string, Commit>): Generator<Commit> {
  const done = new Set<string>();
  for (const start of commits.values()) {
    const stack = [{ commit: start, at: 0 }];
    if (done.has(start.id)) continue;
    done.add(start.id);
    while (stack.length > 0) {
      const top = stack[stack.length - 1];
      if (top.at < top.commit.parents.length) {
        const parent = commits.get(top.commit.parents[top.at++]);
        if (parent === undefined || done.has(parent.id)) continue;
        done.add(parent.id);
        stack.push({ commit: parent, at: 0 });
      } else {
        yield top.commit;
        stack.pop();
      }
    }
  }
}

type TreeReader = (id: string, reference: string) => Promise<readonly TreeItem[] | null>;

/** Reads trees, names each that cannot be read once, and keeps the last ones: neighbors in history share most. */
function treeReader({ objects }: Repository, unread: Unread[]): TreeReader {
  const kept = new Map<string, readonly TreeItem[] | null>();
  const named = new Set<string>();
  return async (id, reference) => {
    const known = kept.get(id);
    if (known !== undefined) return known;
    const tree = await readTree(objects, id);
    if (typeof tree === 'string' && !named.has(id)) {
      named.add(id);
      unread.push({ what: 'folder', state: tree, reference, id });
    }
    const items = typeof tree === 'string' ? null : tree;
    if (kept.size >= keptTrees) kept.delete(kept.keys().next().value ?? '');
    kept.set(id, items);
    return items;
  };
}

/** Adds the manifests of a commit that are not the same in a tree of a parent's, null for none. */
async function changedManifests(
  trees: TreeReader,
  { tree, reference }: Commit,
  parent: string | null,
  found: Map<string, string>,
  budget: { left: number },
): Promise<void> {
  const pairs = [{ after: tree, before: parent, path: '', depth: 0 }];
  for (let pair = pairs.pop(); pair !== undefined && budget.left >= 0; pair = pairs.pop()) {
    const { after, before, path, depth } = pair;
    if (after === before) continue;
    const items = (await trees(after, reference)) ?? [];
    const older = new Map<string, TreeItem>();
    if (before !== null)
      for (const item of (await trees(before, reference)) ?? []) older.set(pathText(item.name), item);
    budget.left -= items.length;
    for (const { kind, name: bytes, id } of items) {
      const name = pathText(bytes);
      const other = older.get(name);
      const same = other?.kind === kind ? other.id : null;
      if (kind === 'file' && name === variantFile && same !== id) found.set(path + name, id);
      if (kind === 'folder' && depth < registryDefaults.maxDepth)
        pairs.push({ after: id, before: same, path: `${path}${name}/`, depth: depth + 1 });
    }
  }
}

/** Objects asked for at a time. */
const batch = 512;
/** The head of a commit is a few hundred bytes; merges of a thousand branches have been made. */
const mostOfHeader = 1024 ** 2;
const keptTrees = 4096;
