import { coordinate } from './xml.ts';
import type { Cards } from './cards.ts';
import { loadLayout } from './layered-layout.ts';
import { measures } from './measures.ts';
import { shapeCard, type CardShape } from './shape-card.ts';
import { textWidth } from './text-width.ts';

export interface Point {
  readonly x: number;
  readonly y: number;
}

/** A card with its place. */
export interface PlacedCard extends Point {
  readonly shape: CardShape;
  /** Positions of letters from which a line leaves, the last letter first: each has a lane of its own below the card. */
  readonly lanes: readonly number[];
}

/** Where everything goes; the origin is the upper left corner of the drawing's inside. */
export interface Placement {
  readonly cards: readonly PlacedCard[];
  /** By link: where its line passes on the way from one card to the next, in the direction of time. */
  readonly ways: readonly (readonly Point[])[];
  /** By link: the middle of its word; null for a link within one card. */
  readonly labels: readonly (Point | null)[];
  /** Where cards without links begin; null when there are none, or nothing else. */
  readonly apart: number | null;
  readonly width: number;
  readonly height: number;
}

/** Size of a link's word. */
export function labelSize(text: string): { width: number; height: number } {
  return { width: textWidth(text, measures.small) + 14, height: 18 };
}

/**
 * Places cards by generations from left to right, with lines that pass between them.
 *
 * @param words the word on each link
 */
export async function placeCards({ cards, links }: Cards, words: readonly string[]): Promise<Placement> {
  const { Graph, layout } = await loadLayout();
  const used = cards.map(() => new Set<number>());
  for (const link of links) used[link.older].add(link.olderNode);
  const shapes = cards.map((card, k) => shapeCard(card, used[k]));
  const lanes = used.map(set => [...set].sort((a, b) => b - a));
  const tied = new Set(
    links.filter(link => link.older !== link.newer).flatMap(link => [link.older, link.newer]),
  );

  const g = new Graph({ multigraph: true });
  g.setGraph({
    rankdir: 'LR',
    nodesep: measures.gap.cards,
    ranksep: measures.gap.generations,
    edgesep: measures.gap.lines,
  });
  shapes.forEach((shape, k) => {
    if (tied.has(k))
      g.setNode(String(k), { width: shape.width, height: shape.height + laneRoom(lanes[k].length) });
  });
  const hasParent = new Set<number>();
  links.forEach((link, k) => {
    if (link.older === link.newer) return;
    // A variant stays near its first parent: where both places are as good, it is drawn in its parent's next generation.
    const weight = hasParent.has(link.newer) ? 1 : 2;
    hasParent.add(link.newer);
    g.setEdge(
      String(link.older),
      String(link.newer),
      { ...labelSize(words[k]), labelpos: 'c', weight },
      String(k),
    );
  });
  if (tied.size > 0) layout(g);

  const placed: PlacedCard[] = [];
  let [width, height] = [0, 0];
  shapes.forEach((shape, k) => {
    if (!tied.has(k)) return;
    const { x, y } = g.node(String(k));
    const full = shape.height + laneRoom(lanes[k].length);
    placed[k] = { shape, lanes: lanes[k], x: tenth(x - shape.width / 2), y: tenth(y - full / 2) };
    width = Math.max(width, placed[k].x + shape.width);
    height = Math.max(height, placed[k].y + full);
  });
  const ways: Point[][] = [];
  const labels: (Point | null)[] = [];
  links.forEach((link, k) => {
    if (link.older === link.newer) {
      ways.push([]);
      labels.push(null);
      return;
    }
    const edge = g.edge(String(link.older), String(link.newer), String(k));
    ways.push(edge.points.slice(1, -1).map(rounded));
    labels.push(rounded(edge));
    for (const point of edge.points) height = Math.max(height, point.y);
  });
  const single = shapes.map((_, k) => k).filter(k => !tied.has(k));
  const apart = single.length > 0 && tied.size > 0 ? height + 46 : null;
  const grid = placeGrid(
    single,
    shapes,
    lanes,
    apart === null ? 0 : apart + 34,
    Math.max(width, measures.leastWidth),
  );
  grid.cards.forEach((card, k) => (placed[single[k]] = card));
  return {
    cards: placed,
    ways,
    labels,
    apart,
    width: Math.max(width, grid.width),
    height: Math.max(height, grid.height),
  };
}

/** Rounded, so that the last digits of a sum never show. */
function rounded({ x, y }: Point): Point {
  return { x: tenth(x), y: tenth(y) };
}

function tenth(value: number): number {
  return Number(coordinate(value));
}

/** Height below a card for the lanes of its letters. */
export function laneRoom(lanes: number): number {
  return lanes === 0 ? 0 : measures.lane.first + lanes * measures.lane.step;
}

/** Cards without links, in rows. */
function placeGrid(
  which: readonly number[],
  shapes: readonly CardShape[],
  lanes: readonly (readonly number[])[],
  top: number,
  room: number,
): { cards: PlacedCard[]; width: number; height: number } {
  const cards: PlacedCard[] = [];
  let [x, y, row, width] = [0, top, 0, 0];
  for (const k of which) {
    const shape = shapes[k];
    if (x > 0 && x + shape.width > room) {
      x = 0;
      y += row + measures.gap.cards;
      row = 0;
    }
    cards.push({ shape, lanes: lanes[k], x, y });
    width = Math.max(width, x + shape.width);
    row = Math.max(row, shape.height + laneRoom(lanes[k].length));
    x += shape.width + measures.gap.cards;
  }
  return { cards, width, height: which.length === 0 ? 0 : y + row };
}
