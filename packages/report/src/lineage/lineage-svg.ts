import { InputError } from '@kinprint/mesh';
import type { LineageGraph } from '@kinprint/registry';
import { reportDefaults } from '../defaults.ts';
import { cardsOf, type CardLink, type Cards } from './cards.ts';
import { drawCard } from './draw-card.ts';
import { drawLegend } from './draw-legend.ts';
import { drawLines } from './draw-lines.ts';

import { headline, subtitle, type LineageAbout } from './about.ts';
import { measures } from './measures.ts';
import { ink, paper } from './palette.ts';
import { placeCards } from './place-cards.ts';
import { fitLine } from './text-width.ts';
import { coordinate, element, xml } from './xml.ts';

/**
 * A lineage as a picture: a card for each variant, its letters as a row of beads, and lines from the very letter that
 * was built on. The same graph gives the same bytes. Generic font families only, nothing is loaded.
 *
 * @throws InputError `lineage-too-large` for more variants than a person can look at
 */
export async function lineageSvg(graph: LineageGraph, about: LineageAbout): Promise<string> {
  const cards = cardsOf(graph);
  if (cards.cards.length > reportDefaults.lineageCards)
    throw new InputError(
      'lineage-too-large',
      `${cards.cards.length} variants are too many for one picture (at most ${reportDefaults.lineageCards}).`,
      'Choose a variant: kinprint lineage DEVICE/VARIANT. Text, json, dot and mermaid take any number.',
    );
  const words = cards.links.map(wordOf);
  const placement = await placeCards(cards, words);
  const { margin, head } = measures;
  const width = Math.max(measures.leastWidth, placement.width + 2 * margin);
  const inner = width - 2 * margin;
  const left = margin + Math.max(0, (inner - placement.width) / 2);
  const bodyTop = margin + head;
  const legend = drawLegend(cards, inner);
  const legendTop = bodyTop + placement.height + 44;
  const height = legendTop + legend.height + margin;
  const largest = largestSizes(cards);
  const chosen = new Set(about.chosen);
  const lines = drawLines(cards.links, words, placement);
  const body = [
    lines.under,
    ...cards.cards.map((card, k) => {
      const isChosen = card.nodes.some(node => chosen.has(node.id));
      return drawCard(
        card,
        placement.cards[k],
        isChosen,
        largest.get(card.face.fit?.body_measure ?? '') ?? 1,
      );
    }),
    lines.over,
    placement.apart === null ? '' : drawApart(placement.apart, placement.width),
  ].join('\n');
  const content = [
    element('title', { id: 'lineage-title' }, xml(`${headline(about)}: lineage`)),
    element('desc', { id: 'lineage-desc' }, xml(subtitle(graph, about))),
    element('rect', { width, height, fill: paper.page }),
    drawHead(graph, about, inner),
    element('g', { transform: `translate(${coordinate(left)} ${bodyTop})` }, body),
    element('g', { transform: `translate(${margin} ${coordinate(legendTop)})` }, legend.markup),
  ];
  return `${element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      viewBox: `0 0 ${coordinate(width)} ${coordinate(height)}`,
      width,
      height,
      role: 'img',
      'aria-labelledby': 'lineage-title lineage-desc',
      'font-family': 'system-ui, sans-serif',
    },
    `\n${content.join('\n')}\n`,
  )}\n`;
}

function wordOf({ edge }: CardLink): string {
  return edge.otherDigest ? `${edge.relation}, other digest` : edge.relation;
}

function largestSizes({ cards }: Cards): Map<string, number> {
  const largest = new Map<string, number>();
  for (const { face } of cards)
    if (face.fit !== null)
      largest.set(face.fit.body_measure, Math.max(largest.get(face.fit.body_measure) ?? 0, face.fit.base_mm));
  return largest;
}

function drawHead(graph: LineageGraph, about: LineageAbout, inner: number): string {
  const { margin } = measures;
  const title = element(
    'text',
    { x: margin, y: margin + 24, 'font-family': 'serif', 'font-size': 32, fill: ink.full },
    xml(fitLine(headline(about), inner, 32)),
  );
  const below = element(
    'text',
    { x: margin, y: margin + 52, 'font-size': 13.5, fill: ink.soft },
    xml(fitLine(subtitle(graph, about), inner - 150, 13.5)),
  );
  const right = margin + inner;
  const time = element(
    'text',
    { x: right - 26, y: margin + 52, 'text-anchor': 'end', 'font-size': measures.small, fill: ink.soft },
    'older to newer',
  );
  const arrow = element('path', {
    d: `M${coordinate(right - 20)} ${margin + 48}h18m-5 -4l5 4l-5 4`,
    fill: 'none',
    stroke: ink.soft,
  });
  const rule = element('path', { d: `M${margin} ${margin + 72.5}h${coordinate(inner)}`, stroke: paper.edge });
  return [title, below, time, arrow, rule].join('\n');
}

function drawApart(y: number, width: number): string {
  const line = element('path', { d: `M0 ${coordinate(y)}h${coordinate(width)}`, stroke: paper.hair });
  const text = element(
    'text',
    { x: 0, y: y + 22, 'font-size': measures.small, fill: ink.soft },
    'Without declared kin',
  );
  return line + text;
}
