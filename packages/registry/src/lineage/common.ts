import { components } from './components.ts';
import { numbersOf, type LineageIndex } from './lineage-index.ts';
import { named, reach } from './reach.ts';

export interface CommonAncestors {
  /** All common ancestors; sorted ids. A node counts as its own ancestor here: of a revision and its own remix, the revision is one. */
  readonly all: readonly string[];
  /** Those from which no other common ancestor came; there may be several, or none. Nodes of one circle count as one and are all named. */
  readonly nearest: readonly string[];
}

/**
 * Common ancestors of two groups of nodes; O(n + e).
 *
 * All ancestors of a common ancestor are common, so the way from one common ancestor to a nearer one has its next node
 * among them too: only what came directly from a node must be looked at.
 */
export function commonAncestors(
  index: LineageIndex,
  some: readonly string[],
  others: readonly string[],
): CommonAncestors {
  const { older, newer, ids } = index;
  const common = reach(older, numbersOf(index, some), true);
  const ofOthers = reach(older, numbersOf(index, others), true);
  for (let k = 0; k < common.length; k += 1) common[k] &= ofOthers[k];
  const component = components(older);
  const hasNearer = new Uint8Array(ids.length); // by component
  for (let k = 0; k < ids.length; k += 1) {
    if (common[k] === 0) continue;
    for (let j = newer.start[k]; j < newer.start[k + 1]; j += 1) {
      const to = newer.ends[j];
      if (common[to] === 1 && component[to] !== component[k]) hasNearer[component[k]] = 1;
    }
  }
  const nearest = common.map((mark, k) => mark & (1 - hasNearer[component[k]]));
  return { all: named(index, common), nearest: named(index, nearest) };
}
