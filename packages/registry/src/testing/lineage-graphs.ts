import fc from 'fast-check';
import { bareNode } from '../lineage/bare-node.ts';
import type { LineageEdge, LineageGraph, LineageNode } from '../lineage/types.ts';

/** A recorded node of which only the id matters. */
export function plainNode(id: string): LineageNode {
  return bareNode(id, null, 'recorded');
}

function plainEdge([from, to]: readonly [string, string]): LineageEdge {
  return { from, to, relation: 'remix', changes: null, otherDigest: false };
}

/** A graph of links (newer, older) between named nodes. */
export function graphOf(links: readonly (readonly [string, string])[]): LineageGraph {
  const ids = [...new Set(links.flat())];
  return { nodes: ids.map(plainNode), edges: links.map(plainEdge) };
}

const name = (k: number): string => String.fromCharCode(97 + k);

function graphs(
  most: number,
  links: (n: number) => fc.Arbitrary<[number, number]>,
): fc.Arbitrary<LineageGraph> {
  return fc
    .integer({ min: 1, max: most })
    .chain(n => fc.tuple(fc.constant(n), fc.array(links(n), { maxLength: 2 * n })))
    .map(([n, pairs]) => ({
      nodes: Array.from({ length: n }, (_, k) => plainNode(name(k))),
      edges: pairs.map(([a, b]) => plainEdge([name(a), name(b)])),
    }));
}

/** Up to `most` nodes (at most 26) and twice as many links, which may repeat and close circles. */
export function randomGraph(most: number): fc.Arbitrary<LineageGraph> {
  return graphs(most, n => fc.tuple(fc.nat(n - 1), fc.nat(n - 1)));
}

/** The same without circles. */
export function randomDag(most: number): fc.Arbitrary<LineageGraph> {
  return graphs(most, n => fc.tuple(fc.nat(n - 1), fc.nat(n - 1))).map(graph => ({
    nodes: graph.nodes,
    edges: graph.edges
      .filter(e => e.from !== e.to)
      .map(e => (e.from > e.to ? e : { ...e, from: e.to, to: e.from })),
  }));
}
