import { ink, okabeIto, paper } from '../lineage/palette.ts';

/** R, G, B, 0…255. */
export type Rgb = readonly [number, number, number];

export function rgb(hex: string): Rgb {
  return [1, 3, 5].map(k => parseInt(hex.slice(k, k + 2), 16)) as unknown as Rgb;
}

/**
 * The material that nothing is said of, the back of a surface that should not be seen, and what they stand on. Added and
 * removed are two of Okabe and Ito's colors (see the palette) that differ most in lightness too; neither stands alone:
 * added material is strewn with plus signs, removed material with minus signs.
 */
export const clay = rgb('#EDE9DF');
export const backOfSurface = rgb('#B9B2C4');
export const added = rgb(okabeIto.blue);
export const removed = rgb(okabeIto.vermillion);
export const colors = {
  page: paper.page,
  card: paper.card,
  hair: paper.hair,
  edge: paper.edge,
  ink: ink.full,
  soft: ink.soft,
  added: okabeIto.blue,
  removed: okabeIto.vermillion,
} as const;
