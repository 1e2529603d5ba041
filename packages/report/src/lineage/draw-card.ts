import type { LineageNode } from '@kinprint/registry';
import type { Card } from './cards.ts';
import { drawBead } from './draw-bead.ts';
import { measures } from './measures.ts';
import { ink, paper } from './palette.ts';
import type { PlacedCard } from './place-cards.ts';
import type { CardShape } from './shape-card.ts';
import { fitLine, textWidth } from './text-width.ts';
import { fitText, known, licenseText } from './words.ts';
import { element, xml } from './xml.ts';

const mono = 'ui-monospace, monospace';

/**
 * One card: address, title, license, hand and size, authors, and the row of letters with what must be said of them.
 *
 * @param chosen whether the drawing is about this variant
 * @param largest the largest size of the same body measure in the drawing, for the length of the dimension line
 */
export function drawCard(card: Card, placed: PlacedCard, chosen: boolean, largest: number): string {
  const { face } = card;
  const { shape } = placed;
  const { padding } = measures.card;
  const right = shape.width - padding;
  const room = right - padding;
  const there = known(face);
  const parts = [
    element('title', {}, xml(`${card.address}: ${face.title}`)),
    element('rect', {
      width: shape.width,
      height: shape.height,
      rx: measures.card.radius,
      fill: there ? paper.card : paper.page,
      stroke: chosen ? ink.full : paper.edge,
      'stroke-width': chosen ? 2.4 : 1.2,
      'stroke-dasharray': there ? undefined : '5 4',
    }),
    text(padding, shape.at.address, fitLine(card.address, room, measures.address, 'mono'), {
      'font-family': mono,
      'font-size': measures.address,
      fill: ink.soft,
    }),
    ...shape.title.map((line, k) =>
      text(padding, shape.at.title + k * measures.title.line, line, {
        'font-size': measures.title.size,
        'font-weight': 'bold',
        fill: ink.full,
      }),
    ),
    drawLicense(face, padding, shape.at.facts, room),
    drawSize(face, shape, right, largest),
    shape.authors === null || shape.at.authors === null
      ? ''
      : text(padding, shape.at.authors, shape.authors, { 'font-size': measures.small, fill: ink.soft }),
    element('path', { d: `M${padding} ${shape.at.rule}h${room}`, stroke: paper.hair }),
    drawBeads(card, shape),
  ];
  return element('g', { transform: `translate(${placed.x} ${placed.y})` }, parts.join('\n'));
}

function text(
  x: number,
  y: number,
  content: string,
  more: Readonly<Record<string, string | number>>,
): string {
  return element('text', { x, y, ...more }, xml(content));
}

/** The license in a frame of its own. */
function drawLicense(face: LineageNode, x: number, y: number, room: number): string {
  const size = measures.small - 0.5;
  const line = fitLine(licenseText(face), room - 16, size);
  const frame = element('rect', {
    x,
    y: y - 13,
    width: textWidth(line, size) + 16,
    height: 19,
    rx: 4,
    fill: 'none',
    stroke: face.license === null ? ink.full : paper.edge,
    'stroke-dasharray': face.license === null ? '3 2' : undefined,
  });
  return frame + text(x + 8, y + 0.5, line, { 'font-size': size, fill: ink.full });
}

/** Hand as a half-filled square with its word; size as a dimension line whose length is true to scale, with its words. */
function drawSize(face: LineageNode, shape: CardShape, right: number, largest: number): string {
  const y = shape.at.size;
  if (y === null) return '';
  const parts: string[] = [];
  let x: number = measures.card.padding;
  const plain = { 'font-size': measures.small, fill: ink.full };
  if (face.hand !== null) {
    parts.push(
      element('rect', { x: x + 0.5, y: y - 9.5, width: 11, height: 11, fill: 'none', stroke: ink.full }),
    );
    const half = face.hand === 'both' ? 11 : 5.5;
    const from = face.hand === 'right' ? x + 6 : x + 0.5;
    parts.push(element('rect', { x: from, y: y - 9.5, width: half, height: 11, fill: ink.full }));
    parts.push(text(x + 18, y, face.hand, plain));
    x += 18 + textWidth(face.hand, measures.small) + 12;
  }
  const words = fitText(face);
  if (words === null || face.fit === null) return parts.join('');
  const line = fitLine(words, right - x, measures.small);
  parts.push(text(x, y, line, plain));
  x += textWidth(line, measures.small) + 10;
  const length = (measures.ruler * face.fit.base_mm) / largest;
  if (x + length <= right) {
    const [from, middle] = [right - length, y - 4];
    parts.push(
      element('path', {
        d: `M${from.toFixed(1)} ${middle}H${right}M${from.toFixed(1)} ${middle - 4}v8M${right} ${middle - 4}v8`,
        fill: 'none',
        stroke: ink.soft,
      }),
    );
  }
  return parts.join('');
}

function drawBeads(card: Card, shape: CardShape): string {
  const y = shape.at.beads;
  const shown = shape.beads;
  const parts: string[] = [];
  if (shown.length > 1)
    parts.push(element('path', { d: `M${shown[0].x} ${y}H${shown[shown.length - 1].x}`, stroke: ink.soft }));
  for (const bead of shown) {
    if (bead.node === null) {
      const label = `+${bead.left}`;
      const width = textWidth(label, 9.5) + 6;
      parts.push(element('rect', { x: bead.x - width / 2, y: y - 8, width, height: 16, fill: paper.card }));
      parts.push(text(bead.x, y + 3.4, label, { 'font-size': 9.5, 'text-anchor': 'middle', fill: ink.soft }));
      continue;
    }
    const node = card.nodes[bead.node];
    parts.push(drawBead(node.status, node.letter, bead.x, y, beadTitle(node)));
  }
  const line = fitLine(statusLine(card), shape.width - 2 * measures.card.padding, measures.small - 1);
  parts.push(
    text(measures.card.padding, shape.at.status, line, {
      'font-size': measures.small - 1,
      fill: ink.soft,
    }),
  );
  return parts.join('\n');
}

function beadTitle(node: LineageNode): string {
  return [node.id, node.status, node.date, node.by === null ? null : `by ${node.by}`]
    .filter(Boolean)
    .join(', ');
}

/** What the row of letters says in words: when the last one was recorded, and every letter of which more must be said. */
export function statusLine(card: Card): string {
  const recorded = card.nodes.findLast(node => node.letter !== null && node.date !== null);
  const words: string[] = [];
  for (const status of ['missing', 'withdrawn', 'vetted'] as const) {
    const letters = card.nodes.filter(node => node.status === status).map(node => node.letter ?? '');
    if (letters.length > 0) words.push(`${letters.filter(Boolean).join(', ')} ${status}`.trim());
  }
  const last = card.nodes[card.nodes.length - 1].status;
  if (last === 'changed') words.push(`changed since ${recorded?.letter ?? 'the last letter'}`);
  if (last === 'unrecorded') words.push('unrecorded: no letter yet');
  if (last === 'unreadable') words.push('manifest unreadable');
  if (last === 'elsewhere') words.push('elsewhere: registry not at hand');
  if (recorded !== undefined) words.push(`${recorded.letter ?? ''} recorded ${recorded.date ?? ''}`);
  return words.join(' · ');
}
