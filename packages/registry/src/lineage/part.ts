import type { LineageEdge, LineageGraph } from './types.ts';

/** The nodes named, and the links between them. */
export function partOfLineage(graph: LineageGraph, ids: Iterable<string>): LineageGraph {
  const kept = new Set(ids);
  return {
    nodes: graph.nodes.filter(node => kept.has(node.id)),
    edges: graph.edges.filter(edge => kept.has(edge.from) && kept.has(edge.to)),
  };
}

/** Links to something that is not there: the older end is no node, or is known to be missing. */
export function danglingEnds(graph: LineageGraph): LineageEdge[] {
  const there = new Set(graph.nodes.filter(node => node.status !== 'missing').map(node => node.id));
  return graph.edges.filter(edge => !there.has(edge.to));
}
