import type { Links } from './lineage-index.ts';

/**
 * Strongly connected components: nodes have the same number when each can be reached from the other. O(n + e),
 * without recursion. Source: R. Tarjan, Depth-first search and linear graph algorithms, SIAM J. Comput. 1 (1972).
 *
 * @param first nodes below this number are treated as taken out of the graph
 * @returns the component of every node; those taken out have -1
 */
export function components(links: Links, first = 0): Int32Array {
  const { start, ends } = links;
  const n = start.length - 1;
  const component = new Int32Array(n).fill(-1);
  const visited = new Uint32Array(n); // order of the visit from 1; 0: not yet
  const low = new Uint32Array(n);
  const next = start.slice(0, n);
  const open: number[] = [];
  const path: number[] = [];
  let visits = 0;
  let found = 0;
  const enter = (k: number): void => {
    visits += 1;
    visited[k] = visits;
    low[k] = visits;
    open.push(k);
    path.push(k);
  };
  for (let root = first; root < n; root += 1) {
    if (visited[root] > 0) continue;
    enter(root);
    while (path.length > 0) {
      const k = path[path.length - 1];
      if (next[k] < start[k + 1]) {
        const to = ends[next[k]];
        next[k] += 1;
        if (to < first) continue;
        if (visited[to] === 0) enter(to);
        else if (component[to] < 0) low[k] = Math.min(low[k], visited[to]);
        continue;
      }
      path.pop();
      if (path.length > 0) {
        const parent = path[path.length - 1];
        low[parent] = Math.min(low[parent], low[k]);
      }
      if (low[k] < visited[k]) continue;
      for (let member = open.pop(); member !== undefined; member = open.pop()) {
        component[member] = found;
        if (member === k) break;
      }
      found += 1;
    }
  }
  return component;
}
