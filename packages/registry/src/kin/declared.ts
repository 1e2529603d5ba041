import { ancestorsOf, descendantsOf } from '../lineage/reach.ts';
import { indexLineage } from '../lineage/lineage-index.ts';
import type { LineageGraph } from '../lineage/types.ts';

/**
 * What the lineage says of a relative's variant, seen from ours: our variant came from it, it came from ours, both came
 * from one older variant, or nothing.
 */
export type Declared = 'same-variant' | 'ancestor' | 'descendant' | 'common-ancestor' | 'not-declared';

/** What the lineage says of one variant and any other, both by their addresses. */
export function declaredFrom(graph: LineageGraph, address: string): (other: string) => Declared {
  return declaredIn(graph)(address);
}

/** The same for many variants of one lineage. */
export function declaredIn(graph: LineageGraph): (address: string) => (other: string) => Declared {
  const index = indexLineage(graph);
  const ids = new Map<string, string[]>();
  for (const { id, address } of graph.nodes) {
    const known = ids.get(address);
    if (known === undefined) ids.set(address, [id]);
    else known.push(id);
  }
  const addressOf = new Map(graph.nodes.map(node => [node.id, node.address]));
  const addresses = (found: readonly string[]): Set<string> =>
    new Set(found.map(id => addressOf.get(id) ?? id));
  return address => {
    const own = ids.get(address) ?? [];
    const older = ancestorsOf(index, own);
    const [ancestors, descendants] = [addresses(older), addresses(descendantsOf(index, own))];
    const cousins = addresses(descendantsOf(index, older));
    return other => {
      if (other === address) return 'same-variant';
      if (ancestors.has(other)) return 'ancestor';
      if (descendants.has(other)) return 'descendant';
      return cousins.has(other) ? 'common-ancestor' : 'not-declared';
    };
  };
}
