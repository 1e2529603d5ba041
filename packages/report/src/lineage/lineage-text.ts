import {
  circlesOf,
  indexLineage,
  topologicalOrder,
  type LineageEdge,
  type LineageGraph,
  type LineageNode,
} from '@kinprint/registry';
import { paints, padEnd, shorten, width, wrap, type Style } from '../terminal/layout.ts';
import { clean } from '../terminal/words.ts';
import { headline, subtitle, type LineageAbout } from './about.ts';
import { cardsOf, type Card, type CardLink } from './cards.ts';
import { fitText, letterText, licenseText } from './words.ts';

/** Beyond this depth a branch goes on at the left margin, so that lines stay within the screen. */
const deepest = 8;
/** Circles beyond are counted, not listed. */
const listedCircles = 5;

/**
 * A lineage for a terminal: a tree from the oldest variants on, each variant with its letters, and below each letter
 * what came from it. A variant met again is named and pointed to, not repeated.
 */
export function lineageText(graph: LineageGraph, about: LineageAbout, style: Style): string {
  const paint = paints(style);
  const title = shorten(clean(headline(about)), style.columns);
  const lines = [paint.bold(title), ...wrap(clean(subtitle(graph, about)), style.columns), ''];
  lines.push(...treeLines(graph, about, style));
  const { circles, more } = circlesOf(indexLineage(graph));
  for (const circle of circles.slice(0, listedCircles))
    lines.push(...hanging(`circle: ${[...circle, circle[0]].join(' came from ')}`, style.columns));
  if (circles.length > listedCircles || more)
    lines.push(`… and ${more ? 'many' : circles.length - listedCircles} more circles (with --json)`);
  return lines.join('\n').trimEnd();
}

interface Task {
  /** The variant to print; null for a line that is ready. */
  readonly card: number | null;
  readonly text?: string;
  /** What stands before its first line, and before the others. */
  readonly head: string;
  readonly tail: string;
  readonly depth: number;
  readonly link: CardLink | null;
}

function treeLines(graph: LineageGraph, about: LineageAbout, style: Style): string[] {
  const cards = cardsOf(graph);
  const below = cards.cards.map((): CardLink[] => []);
  const above = cards.cards.map((): CardLink[] => []);
  for (const link of cards.links) {
    below[link.older].push(link);
    above[link.newer].push(link);
  }
  const printed = new Set<number>();
  const queue = roots(graph, cards.cards, above);
  const lines: string[] = [];
  const chosen = new Set(about.chosen);
  // Branches that went too deep are appended, and printed as trees of their own.
  for (let at = 0; at < queue.length; at += 1) {
    if (printed.has(queue[at])) continue;
    const stack: Task[] = [{ card: queue[at], head: '', tail: '', depth: 0, link: null }];
    for (let task = stack.pop(); task !== undefined; task = stack.pop()) {
      if (task.card === null) {
        lines.push(task.text ?? '');
        continue;
      }
      const card = cards.cards[task.card];
      if (task.link !== null && (printed.has(task.card) || task.depth > deepest)) {
        if (!printed.has(task.card)) queue.push(task.card);
        const where = printed.has(task.card) ? 'see above' : 'see below';
        lines.push(...titled(task, `${card.address}, ${where}`, style, null));
        continue;
      }
      printed.add(task.card);
      const trunk = task.tail + (below[task.card].length > 0 ? '│' : ' ');
      lines.push(...titled({ ...task, tail: trunk }, card.address, style, card));
      for (const { edge } of above[task.card].filter(link => link !== task.link)) {
        const also = `${task.link === null ? '' : 'also '}${edge.relation} of ${edge.to}${other(edge)}`;
        lines.push(...prefixedLines(trunk, also, style));
      }
      stack.push(...letterTasks(task, card, below[task.card], chosen, style).reverse());
    }
    lines.push('');
  }
  return lines;
}

/** Variants that came from nothing shown; then, for circles, those left over. In topological order. */
function roots(
  graph: LineageGraph,
  cards: readonly Card[],
  above: readonly (readonly CardLink[])[],
): number[] {
  const { order, without } = topologicalOrder(indexLineage(graph));
  const cardOf = new Map(cards.flatMap((card, k) => card.nodes.map(node => [node.id, k] as const)));
  const all = [...new Set([...order, ...without].map(id => cardOf.get(id) ?? 0))];
  const first = cards.flatMap((_, k) => (above[k].length === 0 ? [k] : []));
  return [...first, ...all];
}

/** A line for each letter, and below it what came from it. */
function letterTasks(
  task: Task,
  card: Card,
  below: readonly CardLink[],
  chosen: ReadonlySet<string>,
  style: Style,
): Task[] {
  const tasks: Task[] = [];
  const letters = Math.max(...card.nodes.map(node => letterText(node).length));
  let open = below.length;
  card.nodes.forEach((node, k) => {
    const trunk = task.tail + (open > 0 ? '│' : ' ');
    tasks.push({ ...task, card: null, text: letterLine(trunk, node, letters, chosen.has(node.id), style) });
    for (const link of below.filter(l => l.olderNode === k)) {
      open -= 1;
      tasks.push({
        card: link.newer,
        head: `${task.tail}${open > 0 ? '├─ ' : '└─ '}`,
        tail: `${task.tail}${open > 0 ? '│  ' : '   '}`,
        depth: task.depth + 1,
        link,
      });
    }
  });
  return tasks;
}

/** `B  recorded    2024-02-17  CC-BY-SA-4.0`; a chosen one is marked with `▸`. */
function letterLine(tail: string, node: LineageNode, letters: number, chosen: boolean, style: Style): string {
  const paint = paints(style);
  const cells = [
    padEnd(letterText(node), letters),
    padEnd(node.status, 10),
    padEnd(node.date ?? '–', 10),
    '',
  ];
  const head = `${tail}${chosen ? '▸' : ' '}${cells.join('  ')}`;
  const text = shorten(clean(licenseText(node)), Math.max(8, style.columns - width(head)));
  return chosen ? paint.bold(head + text) : head + text;
}

/** The line that names a variant, and for the first time its title, hand and size. */
function titled(task: Task, name: string, style: Style, card: Card | null): string[] {
  const paint = paints(style);
  const relation = task.link === null ? '' : `${task.link.edge.relation}${other(task.link.edge)} `;
  const room = style.columns - width(task.head) - relation.length;
  const first = `${task.head}${paint.cyan(relation)}${paint.bold(shorten(clean(name), Math.max(12, room)))}`;
  if (card === null) return [first];
  const { face } = card;
  const facts = [face.title === card.address ? '' : face.title, face.hand ?? '', fitText(face) ?? ''].filter(
    Boolean,
  );
  return facts.length === 0 ? [first] : [first, ...prefixedLines(task.tail, clean(facts.join(' · ')), style)];
}

function other({ otherDigest }: LineageEdge): string {
  return otherDigest ? ' (another digest)' : '';
}

function prefixedLines(tail: string, text: string, style: Style): string[] {
  return wrap(clean(text), Math.max(20, style.columns - width(tail) - 1)).map(line => `${tail} ${line}`);
}

function hanging(text: string, columns: number): string[] {
  return wrap(clean(text), columns - 2).map((line, k) => (k === 0 ? line : `  ${line}`));
}
