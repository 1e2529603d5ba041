import type { LineageStatus } from '@kinprint/registry';
import { measures } from './measures.ts';
import { ink, okabeIto, paper } from './palette.ts';
import { coordinate, element, xml } from './xml.ts';

/** How a status is drawn; shapes differ, not only colors. */
interface BeadStyle {
  readonly fill: string;
  readonly stroke: string;
  readonly text: string;
  readonly dash?: string;
  readonly ring?: boolean;
  readonly crossed?: boolean;
}

function beadStyle(status: LineageStatus): BeadStyle {
  switch (status) {
    case 'recorded':
      return { fill: ink.full, stroke: ink.full, text: paper.card };
    case 'vetted':
      return { fill: okabeIto.blue, stroke: okabeIto.blue, text: paper.card, ring: true };
    case 'withdrawn':
      return { fill: paper.card, stroke: okabeIto.vermillion, text: ink.full, crossed: true };
    case 'changed':
      return { fill: paper.card, stroke: okabeIto.orange, text: ink.full, dash: '3 2' };
    case 'unrecorded':
      return { fill: paper.card, stroke: ink.soft, text: ink.full };
    case 'missing':
    case 'unreadable':
      return { fill: paper.page, stroke: okabeIto.vermillion, text: ink.full, dash: '1.5 2.5' };
    case 'elsewhere':
      return { fill: paper.page, stroke: ink.soft, text: ink.full, dash: '1.5 2.5' };
  }
}

/** What stands in a bead: the letter, or a mark for content without one. */
export function beadMark(status: LineageStatus, letter: string | null): string {
  if (letter !== null) return letter;
  return status === 'changed' ? '∗' : status === 'unrecorded' ? '–' : '?';
}

/** A letter as a bead around a point. */
export function drawBead(
  status: LineageStatus,
  letter: string | null,
  x: number,
  y: number,
  title = '',
): string {
  const style = beadStyle(status);
  const r = measures.bead.radius;
  const parts = [
    title === '' ? '' : element('title', {}, xml(title)),
    style.ring === true
      ? element('circle', { cx: x, cy: y, r: r + 2.6, fill: 'none', stroke: style.stroke })
      : '',
    element('circle', {
      cx: x,
      cy: y,
      r: r - 0.7,
      fill: style.fill,
      stroke: style.stroke,
      'stroke-width': 1.6,
      'stroke-dasharray': style.dash,
    }),
    element(
      'text',
      {
        x,
        y: y + 3.9,
        'text-anchor': 'middle',
        'font-size': letter !== null && letter.length > 1 ? 9 : 11,
        'font-weight': 'bold',
        fill: style.text,
      },
      xml(beadMark(status, letter)),
    ),
    style.crossed === true
      ? element('path', {
          d: `M${coordinate(x - r + 1)} ${coordinate(y + r - 1)}L${coordinate(x + r - 1)} ${coordinate(y - r + 1)}`,
          stroke: style.stroke,
          'stroke-width': 1.8,
        })
      : '',
  ];
  return element('g', {}, parts.join(''));
}
