import type { LineageStatus } from '@kinprint/registry';
import type { Cards } from './cards.ts';
import { drawBead } from './draw-bead.ts';
import { measures } from './measures.ts';
import { ink, lineStyle, paper } from './palette.ts';
import { textWidth } from './text-width.ts';
import { relationMeaning, relations, statusMeaning } from './words.ts';
import { element, xml } from './xml.ts';

const order: readonly LineageStatus[] = [
  'recorded',
  'vetted',
  'withdrawn',
  'changed',
  'unrecorded',
  'missing',
  'unreadable',
  'elsewhere',
];

export interface Drawn {
  readonly markup: string;
  readonly height: number;
}

/** What the lines and beads mean that the drawing uses, in rows no wider than `width`. */
export function drawLegend({ cards, links }: Cards, width: number): Drawn {
  const usedRelations = relations.filter(relation => links.some(link => link.edge.relation === relation));
  const usedStatuses = order.filter(status =>
    cards.some(card => card.nodes.some(node => node.status === status)),
  );
  const items: Item[] = [
    ...usedRelations.map((relation): Item => {
      const style = lineStyle(relation);
      return {
        sign: (x, y) =>
          element('path', {
            d: `M${x} ${y}h38`,
            fill: 'none',
            stroke: style.color,
            'stroke-width': 2.2,
            'stroke-dasharray': style.dash,
            'stroke-linecap': style.cap,
          }) + element('path', { d: `M${x + 46} ${y}l-8 -4.5v9z`, fill: style.color }),
        room: 54,
        word: relation,
        meaning: relationMeaning(relation),
      };
    }),
    ...usedStatuses.map((status): Item => ({
      sign: (x, y) => drawBead(status, letterOf(status), x + 12, y),
      room: 32,
      word: status,
      meaning: statusMeaning(status),
    })),
  ];
  const parts = [element('path', { d: `M0 0.5h${width}`, stroke: paper.edge })];
  let [x, y] = [0, 32];
  for (const item of items) {
    const text = textWidth(`${item.word}  ${item.meaning}`, measures.small, 'bold');
    if (x > 0 && x + item.room + text > width) [x, y] = [0, y + 30];
    parts.push(item.sign(x, y));
    const bold = element('tspan', { 'font-weight': 'bold', fill: ink.full }, item.word);
    const soft = element('tspan', { fill: ink.soft, dx: 6 }, xml(item.meaning));
    parts.push(element('text', { x: x + item.room, y: y + 4, 'font-size': measures.small }, bold + soft));
    x += item.room + text + 26;
  }
  const foot =
    'A line leaves the letter that was built on. Letters run from old to new; title, license, authors and size are those of the present manifest.';
  const credit = 'Colors: Okabe and Ito, Color Universal Design (2008).';
  parts.push(small(y + 34, foot), small(y + 52, credit));
  return { markup: parts.join('\n'), height: y + 56 };
}

interface Item {
  readonly sign: (x: number, y: number) => string;
  readonly room: number;
  readonly word: string;
  readonly meaning: string;
}

function letterOf(status: LineageStatus): string | null {
  return status === 'changed' || status === 'unrecorded' || status === 'unreadable' ? null : 'A';
}

function small(y: number, text: string): string {
  return element('text', { x: 0, y, 'font-size': measures.small - 1, fill: ink.soft }, xml(text));
}
