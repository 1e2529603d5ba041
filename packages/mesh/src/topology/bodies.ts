import { bounds, center } from '../mass/bounds.ts';
import type { Mesh } from '../types.ts';
import { faceOf } from './corners.ts';
import { rootOf, singletons, unite } from './disjoint-sets.ts';
import { nestShells, type Nesting } from './nesting.ts';
import { shellTable, type ShellTable } from './shell-table.ts';
import { topology, type Topology } from './topology.ts';

/**
 * The bodies of a mesh, each as the ascending list of its faces, ordered by first face.
 *
 * A body is an outer closed shell with the cavities directly inside it; or open shells that meet on edges of three or
 * more faces; or any other shell alone. Faces with two equal corners belong to none. `subMesh` makes a mesh of one.
 */
export function bodies(mesh: Mesh): Int32Array[] {
  const found = topology(mesh);
  const box = bounds(mesh);
  const table = shellTable(mesh, found, box === null ? [0, 0, 0] : center(box));
  return bodiesOf(found, table, nestShells(mesh, table, found.label));
}

/** The same from what is known already. */
export function bodiesOf(found: Topology, table: ShellTable, nesting: Nesting): Int32Array[] {
  const group = singletons(table.count);
  const { crowded, crowdStarts } = found.pairs;
  for (let i = 0; i + 1 < crowdStarts.length; i++) {
    let first = -1;
    for (let k = crowdStarts[i]; k < crowdStarts[i + 1]; k++) {
      const shell = found.label[faceOf(crowded[k])];
      if (table.closed[shell] === 1) continue;
      if (first < 0) first = shell;
      else unite(group, first, shell);
    }
  }
  const outward = nesting.insideOut ? -1 : 1;
  for (let s = 0; s < table.count; s++) {
    const parent = nesting.parent[s];
    if (parent >= 0 && nesting.sign[s] === -outward && nesting.sign[parent] === outward)
      unite(group, s, parent);
  }
  const sizes = new Int32Array(table.count);
  for (let s = 0; s < table.count; s++) {
    sizes[rootOf(group, s)] += table.starts[s + 1] - table.starts[s];
  }
  const lists = new Map<number, Int32Array>();
  const filled = new Int32Array(table.count);
  for (let f = 0; f < found.label.length; f++) {
    if (found.label[f] < 0) continue;
    const root = rootOf(group, found.label[f]);
    let list = lists.get(root);
    if (list === undefined) {
      list = new Int32Array(sizes[root]);
      lists.set(root, list);
    }
    list[filled[root]++] = f;
  }
  return [...lists.values()];
}
