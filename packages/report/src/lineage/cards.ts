import { byText } from '@kinprint/compare';
import type { LineageEdge, LineageGraph, LineageNode } from '@kinprint/registry';
import { known } from './words.ts';

/** One variant of a lineage with its letters. */
export interface Card {
  readonly address: string;
  /** Letters in their order; content without a letter last. */
  readonly nodes: readonly LineageNode[];
  /** The node that speaks for the variant: the last one of which more than the name is known. */
  readonly face: LineageNode;
}

/** A derivation between two cards. */
export interface CardLink {
  readonly edge: LineageEdge;
  /** Card and position of the older node. */
  readonly older: number;
  readonly olderNode: number;
  /** Card and position of the newer node. */
  readonly newer: number;
  readonly newerNode: number;
}

/** A lineage by variants. */
export interface Cards {
  /** In the order of the addresses. */
  readonly cards: readonly Card[];
  /** Derivations with both ends in the lineage; ordered by older card, newer card, relation. */
  readonly links: readonly CardLink[];
}

/** Groups the nodes of a lineage by variant. */
export function cardsOf(graph: LineageGraph): Cards {
  const groups = new Map<string, LineageNode[]>();
  for (const node of graph.nodes) {
    const group = groups.get(node.address);
    if (group === undefined) groups.set(node.address, [node]);
    else group.push(node);
  }
  const cards = [...groups]
    .sort(([a], [b]) => byText(a, b))
    .map(([address, unsorted]): Card => {
      const nodes = unsorted.sort(byLetter);
      return { address, nodes, face: nodes.findLast(known) ?? nodes[nodes.length - 1] };
    });
  const place = new Map(cards.flatMap((card, k) => card.nodes.map((node, j) => [node.id, [k, j] as const])));
  const links: CardLink[] = [];
  for (const edge of graph.edges) {
    const older = place.get(edge.to);
    const newer = place.get(edge.from);
    if (edge.relation === 'revision' || older === undefined || newer === undefined) continue;
    links.push({ edge, older: older[0], olderNode: older[1], newer: newer[0], newerNode: newer[1] });
  }
  return { cards, links: links.sort(byEnds) };
}

/** Letters by their order (A … Y, AA …); content without a letter comes last. */
function byLetter(a: LineageNode, b: LineageNode): number {
  if (a.letter === null || b.letter === null) return Number(a.letter === null) - Number(b.letter === null);
  return a.letter.length - b.letter.length || byText(a.letter, b.letter);
}

function byEnds(a: CardLink, b: CardLink): number {
  return (
    a.older - b.older ||
    a.newer - b.newer ||
    a.olderNode - b.olderNode ||
    a.newerNode - b.newerNode ||
    byText(a.edge.relation, b.edge.relation) ||
    byText(a.edge.changes ?? '', b.edge.changes ?? '')
  );
}
