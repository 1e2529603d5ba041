import type { CardLink } from './cards.ts';
import { measures } from './measures.ts';
import { ink, lineStyle, paper } from './palette.ts';
import { labelSize, laneRoom, type PlacedCard, type Placement, type Point } from './place-cards.ts';
import { coordinate as c, element, xml } from './xml.ts';

/** Markup that lies under the cards, and over them. */
export interface Lines {
  readonly under: string;
  readonly over: string;
}

/** Stems from the letters, lines between the cards with their arrows, and the words on the lines. */
export function drawLines(links: readonly CardLink[], words: readonly string[], placement: Placement): Lines {
  const entries = entryHeights(links, placement);
  const columns = columnsOf(placement.cards);
  const under: string[] = [];
  const over = placement.cards.flatMap(drawStems);
  const labels: string[] = [];
  links.forEach((link, k) => {
    const older = placement.cards[link.older];
    const newer = placement.cards[link.newer];
    const start = { x: older.x + older.shape.width, y: laneHeight(older, link.olderNode) };
    const tip = { x: newer.x - measures.arrow, y: newer.y + entries[k] };
    const title = element('title', {}, xml(titleOf(link)));
    if (tip.x > start.x) {
      const line = drawLine(smooth([start, ...widen(placement.ways[k], columns), tip]), tip, link);
      under.push(element('g', {}, title + line));
      labels.push(drawLabel(words[k], placement.labels[k] ?? tip));
    } else {
      // Against the direction of time: part of a circle. It goes below both cards, and over whatever stands there.
      const run = Math.max(bottom(older), bottom(newer)) + 4;
      const left = newer.x - 20;
      const path = `M${c(start.x)} ${c(start.y)}h10V${c(run)}H${c(left)}V${c(tip.y)}H${c(tip.x)}`;
      over.push(element('g', {}, title + drawLine(path, tip, link)));
      labels.push(drawLabel(words[k], { x: (start.x + left) / 2, y: run }));
    }
  });
  return { under: under.join('\n'), over: [...over, ...labels].join('\n') };
}

/** A line in the pattern of its relation, with an arrow from `tip` on. */
function drawLine(path: string, tip: Point, { edge }: CardLink): string {
  const style = lineStyle(edge.relation);
  const line = element('path', {
    d: path,
    fill: 'none',
    stroke: style.color,
    'stroke-width': style.cap === 'round' ? 2.8 : 2.3,
    'stroke-dasharray': style.dash,
    'stroke-linecap': style.cap,
  });
  const head = element('path', {
    d: `M${c(tip.x + measures.arrow - 1)} ${c(tip.y)}l${c(-measures.arrow)} -4.5v9z`,
    fill: style.color,
  });
  return line + head;
}

function bottom({ y, shape, lanes }: PlacedCard): number {
  return y + shape.height + laneRoom(lanes.length);
}

function titleOf({ edge }: CardLink): string {
  return `${edge.from}: ${edge.relation} of ${edge.to}${edge.changes === null ? '' : `. ${edge.changes}`}`;
}

/** From each letter that something came from, a stem down to a lane of its own and along it to the card's right side. */
function drawStems(card: PlacedCard): string[] {
  return card.lanes.map(node => {
    const bead = card.shape.beads.find(b => b.node === node);
    const x = card.x + (bead?.x ?? 0);
    const y = laneHeight(card, node);
    const top = card.y + card.shape.at.beads + measures.bead.radius - 0.5;
    return element('path', {
      d: `M${c(x)} ${c(top)}V${c(y - 6)}q0 6 6 6H${c(card.x + card.shape.width)}`,
      fill: 'none',
      stroke: ink.full,
      'stroke-width': 1.3,
    });
  });
}

function laneHeight(card: PlacedCard, node: number): number {
  return card.y + card.shape.height + measures.lane.first + card.lanes.indexOf(node) * measures.lane.step;
}

/** By link: how far below the newer card's top its line arrives; in the order in which the lines come in. */
function entryHeights(links: readonly CardLink[], { cards, ways }: Placement): number[] {
  const heights = new Array<number>(links.length).fill(0);
  const arriving = cards.map((): number[] => []);
  links.forEach((link, k) => arriving[link.newer].push(k));
  arriving.forEach((list, card) => {
    const from = (k: number): number => ways[k].at(-1)?.y ?? Number.MAX_VALUE;
    list.sort((a, b) => from(a) - from(b) || a - b);
    const { height } = cards[card].shape;
    list.forEach((k, place) => (heights[k] = (height * (place + 1)) / (list.length + 1)));
  });
  return heights;
}

interface Column {
  readonly x: number;
  readonly half: number;
}

/** Columns of cards by their middle. */
function columnsOf(cards: readonly PlacedCard[]): Column[] {
  const halves = new Map<number, number>();
  for (const { x, shape } of cards) {
    const middle = Math.round(x + shape.width / 2);
    halves.set(middle, Math.max(halves.get(middle) ?? 0, shape.width / 2));
  }
  return [...halves].map(([x, half]) => ({ x, half }));
}

/** A line that passes between the cards of a column runs level for the column's whole width, so that it touches none. */
function widen(way: readonly Point[], columns: readonly Column[]): Point[] {
  return way.flatMap((point, k) => {
    const column = columns.find(({ x }) => Math.abs(x - point.x) < 1.5);
    if (column === undefined) return [point];
    const reach = column.half + 8;
    const back = k > 0 && way[k - 1].x > point.x ? -1 : 1;
    return [
      { x: point.x - back * reach, y: point.y },
      { x: point.x + back * reach, y: point.y },
    ];
  });
}

/** A curve through the points that is level at each of them. */
function smooth(points: readonly Point[]): string {
  let d = `M${c(points[0].x)} ${c(points[0].y)}`;
  for (let k = 1; k < points.length; k += 1) {
    const [a, b] = [points[k - 1], points[k]];
    if (Math.abs(a.y - b.y) < 0.05) d += `L${c(b.x)} ${c(b.y)}`;
    else {
      const middle = (a.x + b.x) / 2;
      d += `C${c(middle)} ${c(a.y)} ${c(middle)} ${c(b.y)} ${c(b.x)} ${c(b.y)}`;
    }
  }
  return d;
}

function drawLabel(word: string, at: Point): string {
  const { width, height } = labelSize(word);
  const box = element('rect', {
    x: at.x - width / 2,
    y: at.y - height / 2,
    width,
    height,
    rx: height / 2,
    fill: paper.page,
  });
  const text = element(
    'text',
    { x: at.x, y: at.y + 4, 'text-anchor': 'middle', 'font-size': measures.small, fill: ink.full },
    xml(word),
  );
  return box + text;
}
