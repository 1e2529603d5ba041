import { registryDefaults } from '../defaults.ts';
import { components } from './components.ts';
import type { LineageIndex } from './lineage-index.ts';

export interface Circles {
  /**
   * Each elementary circle (no node twice) once: it begins with the id that comes first in text order, each id came
   * from the next one, and the last one from the first.
   */
  readonly circles: readonly (readonly string[])[];
  /** Whether there are more than were asked for. */
  readonly more: boolean;
}

/**
 * Finds the elementary circles, at most `most` of them: there can be exponentially many. O((n + e) · (most + 1)),
 * without recursion. Source: D. B. Johnson, Finding all the elementary circuits of a directed graph, SIAM J. Comput. 4
 * (1975).
 */
export function circlesOf(index: LineageIndex, most: number = registryDefaults.lineageCircles): Circles {
  const { start, ends } = index.older;
  const n = index.ids.length;
  const circles: string[][] = [];
  for (let first = 0; first < n;) {
    const component = components(index.older, first);
    const root = leastInCircle(index, component, first);
    if (root === null) break;
    if (!circlesThrough(root, component)) return { circles, more: true };
    first = root + 1;
  }
  return { circles, more: false };

  /** Adds the circles through `root` within its component; false as soon as there would be too many. */
  function circlesThrough(root: number, component: Int32Array): boolean {
    const blocked = new Uint8Array(n);
    const waiting = new Map<number, Set<number>>(); // blocked for as long as the key is
    const next = start.slice(0, n);
    const closed = new Uint8Array(n); // whether a circle was closed below the node
    const path = [root];
    blocked[root] = 1;
    while (path.length > 0) {
      const k = path[path.length - 1];
      if (next[k] < start[k + 1]) {
        const to = ends[next[k]];
        next[k] += 1;
        if (component[to] !== component[root]) continue;
        if (to === root) {
          if (circles.length === most) return false;
          circles.push(path.map(node => index.ids[node]));
          closed[k] = 1;
        } else if (blocked[to] === 0) {
          path.push(to);
          blocked[to] = 1;
          next[to] = start[to];
          closed[to] = 0;
        }
        continue;
      }
      path.pop();
      if (closed[k] === 1) {
        unblock(k);
        if (path.length > 0) closed[path[path.length - 1]] = 1;
      } else {
        for (let j = start[k]; j < start[k + 1]; j += 1) {
          const to = ends[j];
          if (component[to] !== component[root]) continue;
          const set = waiting.get(to);
          if (set === undefined) waiting.set(to, new Set([k]));
          else set.add(k);
        }
      }
    }
    return true;

    function unblock(freed: number): void {
      const stack = [freed];
      for (let k = stack.pop(); k !== undefined; k = stack.pop()) {
        if (blocked[k] === 0) continue;
        blocked[k] = 0;
        for (const waiter of waiting.get(k) ?? []) stack.push(waiter);
        waiting.delete(k);
      }
    }
  }
}

/** The least node that is in a circle of nodes from `first` on. */
function leastInCircle(index: LineageIndex, component: Int32Array, first: number): number | null {
  const { start, ends } = index.older;
  const size = new Uint32Array(index.ids.length);
  for (let k = first; k < component.length; k += 1) size[component[k]] += 1;
  for (let k = first; k < component.length; k += 1) {
    if (size[component[k]] > 1) return k;
    for (let j = start[k]; j < start[k + 1]; j += 1) if (ends[j] === k) return k;
  }
  return null;
}
