import { Graph, alg } from '@dagrejs/graphlib';
import fc from 'fast-check';
import { DirectedGraph } from 'graphology';
import { hasCycle, topologicalSort } from 'graphology-dag';
import { describe, expect, it } from 'vitest';
import { graphOf, randomDag, randomGraph } from '../testing/lineage-graphs.ts';
import { circlesOf } from './circles.ts';
import { commonAncestors } from './common.ts';
import { components } from './components.ts';
import { indexLineage } from './lineage-index.ts';
import { topologicalOrder } from './order.ts';
import { danglingEnds, partOfLineage } from './part.ts';
import { ancestorsOf, descendantsOf } from './reach.ts';
import type { LineageGraph } from './types.ts';

/** The same graph in the reference libraries, links from newer to older. */
function inGraphlib(graph: LineageGraph): Graph {
  const g = new Graph({ directed: true });
  for (const node of graph.nodes) g.setNode(node.id);
  for (const edge of graph.edges) g.setEdge(edge.from, edge.to);
  return g;
}

function inGraphology(graph: LineageGraph): DirectedGraph {
  const g = new DirectedGraph();
  for (const node of graph.nodes) g.addNode(node.id);
  for (const edge of graph.edges) g.mergeEdge(edge.to, edge.from);
  return g;
}

/** Ancestors by graphlib, the node included. */
const referenceAncestors = (g: Graph, id: string): Set<string> => new Set(alg.preorder(g, [id]));

describe('a lineage', () => {
  it('has ancestors and descendants as graphlib finds them', () => {
    fc.assert(
      fc.property(randomDag(12), graph => {
        const index = indexLineage(graph);
        const g = inGraphlib(graph);
        const above = new Map(graph.nodes.map(({ id }) => [id, referenceAncestors(g, id)]));
        for (const { id } of graph.nodes) {
          const own = above.get(id) ?? new Set();
          expect(ancestorsOf(index, [id])).toEqual([...own].filter(a => a !== id).sort());
          const below = graph.nodes.map(n => n.id).filter(d => d !== id && above.get(d)?.has(id));
          expect(descendantsOf(index, [id])).toEqual(below.sort());
        }
      }),
    );
  });

  it('has the nearest common ancestors that the definition asks for, by graphlib reachability', () => {
    fc.assert(
      fc.property(randomDag(10), graph => {
        const index = indexLineage(graph);
        const g = inGraphlib(graph);
        const ids = graph.nodes.map(n => n.id);
        for (const a of ids)
          for (const b of ids) {
            const both = [...referenceAncestors(g, a)].filter(c => referenceAncestors(g, b).has(c)).sort();
            const nearest = both.filter(c => !both.some(d => d !== c && referenceAncestors(g, d).has(c)));
            expect(commonAncestors(index, [a], [b])).toEqual({ all: both, nearest });
          }
      }),
      { numRuns: 40 },
    );
  });

  it('is ordered with every node after what it came from; graphology agrees on whether it can be', () => {
    fc.assert(
      fc.property(randomGraph(9), graph => {
        const { order, without } = topologicalOrder(indexLineage(graph));
        const reference = inGraphology(graph);
        expect(without.length > 0).toBe(hasCycle(reference));
        expect([...order, ...without].sort()).toEqual(graph.nodes.map(n => n.id).sort());
        const at = new Map(order.map((id, k) => [id, k]));
        for (const { from, to } of graph.edges)
          if (at.has(from)) expect(at.get(to)).toBeLessThan(at.get(from) ?? -1);
        if (without.length === 0) expect([...topologicalSort(reference)].sort()).toEqual([...order].sort());
      }),
    );
  });

  it('falls into the strong components that graphlib finds (Tarjan)', () => {
    fc.assert(
      fc.property(randomGraph(9), graph => {
        const index = indexLineage(graph);
        const groups = new Map<number, string[]>();
        components(index.older).forEach((c, k) => groups.set(c, [...(groups.get(c) ?? []), index.ids[k]]));
        const sorted = (list: readonly string[][]) => list.map(ids => [...ids].sort().join(' ')).sort();
        expect(sorted([...groups.values()])).toEqual(sorted(alg.tarjan(inGraphlib(graph))));
      }),
    );
  });

  it('has exactly the elementary circles that a search of all paths finds', () => {
    fc.assert(
      fc.property(randomGraph(6), graph => {
        const { circles, more } = circlesOf(indexLineage(graph), 100_000);
        expect(more).toBe(false);
        expect(circles.map(c => c.join(' ')).sort()).toEqual(allCircles(graph).sort());
      }),
      { numRuns: 300 },
    );
  });

  it('has Σ C(n,k)(k−1)! circles where everything came from everything (closed form), and names a bounded number', () => {
    const names = ['a', 'b', 'c', 'd', 'e', 'f'];
    const complete = graphOf(names.flatMap(a => names.filter(b => b !== a).map(b => [a, b] as const)));
    const index = indexLineage(complete);
    // Johnson (1975), section 1: Σ C(n, n−i+1)(n−i)! without loops; for n = 6: 15·1 + 20·2 + 15·6 + 6·24 + 120 = 409.
    expect(circlesOf(index, 1000).circles).toHaveLength(409);
    expect(circlesOf(index, 409).more).toBe(false);
    const some = circlesOf(index, 10);
    expect(some.circles).toHaveLength(10);
    expect(some.more).toBe(true);
  });

  it('names a circle once, from its first id, along what came from what; a self-made one too', () => {
    const graph = graphOf([
      ['c', 'b'],
      ['b', 'a'],
      ['a', 'c'],
      ['d', 'd'],
      ['e', 'a'],
    ]);
    const index = indexLineage(graph);
    expect(circlesOf(index).circles).toEqual([['a', 'c', 'b'], ['d']]);
    expect(ancestorsOf(index, ['a'])).toEqual(['a', 'b', 'c']);
    expect(topologicalOrder(index).without).toEqual(['a', 'b', 'c', 'd', 'e']);
    expect(commonAncestors(index, ['e'], ['b']).nearest).toEqual(['a', 'b', 'c']);
  });

  it('answers the same whatever the order of nodes and links', () => {
    const shuffled = randomGraph(8).chain(graph =>
      fc.record({
        graph: fc.constant(graph),
        nodes: fc.shuffledSubarray([...graph.nodes], { minLength: graph.nodes.length }),
        edges: fc.shuffledSubarray([...graph.edges], { minLength: graph.edges.length }),
      }),
    );
    fc.assert(
      fc.property(shuffled, ({ graph, nodes, edges }) => {
        const [a, b] = [indexLineage(graph), indexLineage({ nodes, edges })];
        expect(topologicalOrder(b)).toEqual(topologicalOrder(a));
        expect(circlesOf(b)).toEqual(circlesOf(a));
      }),
    );
  });

  it('tells links to what is not there', () => {
    const graph = graphOf([
      ['a', 'b'],
      ['c', 'b'],
    ]);
    const gone = { ...graph, nodes: graph.nodes.filter(n => n.id !== 'b') };
    expect(danglingEnds(graph)).toEqual([]);
    expect(danglingEnds(gone).map(e => e.from)).toEqual(['a', 'c']);
    const missing = {
      ...graph,
      nodes: graph.nodes.map(n => (n.id === 'b' ? { ...n, status: 'missing' as const } : n)),
    };
    expect(danglingEnds(missing)).toHaveLength(2);
    expect(partOfLineage(graph, ['a', 'b']).edges.map(e => e.from)).toEqual(['a']);
    expect(topologicalOrder(indexLineage(gone)).order).toEqual(['a', 'c']);
  });

  it('takes 100 000 nodes in a chain, and the same closed to a circle', () => {
    const n = 100_000;
    const name = (k: number): string => String(k).padStart(6, '0');
    const chain = Array.from({ length: n - 1 }, (_, k) => [name(k + 1), name(k)] as const);
    const index = indexLineage(graphOf(chain));
    expect(ancestorsOf(index, [name(n - 1)])).toHaveLength(n - 1);
    expect(topologicalOrder(index).order[n - 1]).toBe(name(n - 1));
    expect(circlesOf(index).circles).toEqual([]);
    expect(commonAncestors(index, [name(500)], [name(n - 1)]).nearest).toEqual([name(500)]);
    const closed = indexLineage(graphOf([...chain, [name(0), name(n - 1)]]));
    expect(circlesOf(closed).circles.map(c => c.length)).toEqual([n]);
    expect(topologicalOrder(closed).without).toHaveLength(n);
  }, 20_000);
});

/** Every elementary circle by walking all paths from its first id. */
function allCircles(graph: LineageGraph): string[] {
  const older = new Map(
    graph.nodes.map(({ id }) => [id, new Set(graph.edges.filter(e => e.from === id).map(e => e.to))]),
  );
  const found: string[] = [];
  const walk = (path: string[]): void => {
    for (const to of older.get(path[path.length - 1]) ?? []) {
      if (to === path[0]) found.push(path.join(' '));
      else if (to > path[0] && !path.includes(to)) walk([...path, to]);
    }
  };
  for (const { id } of graph.nodes) walk([id]);
  return found;
}
