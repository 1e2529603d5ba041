import type { Relation } from '@kinprint/registry';

/**
 * Colors that people with the common color vision deficiencies can tell apart: M. Okabe and K. Ito, Color Universal
 * Design (2008). Ink, paper and their shades are ours. No color stands alone: every relation has a line pattern and its
 * word, every status a shape and its word.
 */
export const okabeIto = {
  orange: '#E69F00',
  skyBlue: '#56B4E9',
  bluishGreen: '#009E73',
  yellow: '#F0E442',
  blue: '#0072B2',
  vermillion: '#D55E00',
  reddishPurple: '#CC79A7',
  black: '#000000',
} as const;

export const paper = { page: '#FAF8F3', card: '#FFFFFF', edge: '#CFC9BC', hair: '#E4DFD4' } as const;
export const ink = { full: '#22262E', soft: '#565C66' } as const;

/** How the line of a relation looks. */
export interface LineStyle {
  readonly color: string;
  /** `stroke-dasharray`; undefined for a full line. */
  readonly dash?: string;
  readonly cap: 'round' | 'butt';
}

export function lineStyle(relation: Relation): LineStyle {
  switch (relation) {
    case 'remix':
      return { color: okabeIto.vermillion, cap: 'butt' };
    case 'combination':
      return { color: okabeIto.reddishPurple, dash: '14 4 2 4', cap: 'butt' };
    case 'mirror':
      return { color: okabeIto.blue, dash: '0.1 5', cap: 'round' };
    case 'rescale':
      return { color: okabeIto.bluishGreen, dash: '10 5', cap: 'butt' };
    case 'copy':
      return { color: ink.soft, dash: '4 3', cap: 'butt' };
    case 'revision':
      return { color: ink.soft, cap: 'butt' };
  }
}
