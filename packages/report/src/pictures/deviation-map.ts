import type { Rgb } from './colors.ts';

/**
 * The diverging color map vik of F. Crameri, Scientific colour maps, Zenodo (2018), doi:10.5281/zenodo.1243862, MIT
 * license: perceptually uniform, and readable with the common color vision deficiencies (F. Crameri, G. E. Shephard,
 * P. J. Heron, The misuse of colour in science communication, Nature Communications 11, 5444 (2020)). Its twelve even
 * steps, and straight lines between them.
 */
export const vik: readonly Rgb[] = [
  [0, 18, 97],
  [2, 54, 120],
  [9, 91, 144],
  [66, 137, 175],
  [138, 184, 206],
  [210, 225, 233],
  [236, 211, 197],
  [218, 166, 136],
  [200, 124, 81],
  [176, 79, 27],
  [129, 31, 6],
  [89, 0, 8],
];

/** The color at 0…1 of the map. */
export function vikAt(share: number): Rgb {
  const at = (share < 0 ? 0 : share > 1 ? 1 : share) * (vik.length - 1);
  const k = Math.min(vik.length - 2, Math.floor(at));
  const t = at - k;
  return [0, 1, 2].map(c => Math.round(vik[k][c as 0] * (1 - t) + vik[k + 1][c as 0] * t)) as unknown as Rgb;
}

/** The color of a deviation: blue outward (material added), as added material is; brown inward. */
export function deviationColor(deviation_mm: number, limit_mm: number): Rgb {
  return vikAt(0.5 - deviation_mm / (2 * limit_mm));
}

/** A round number that is not smaller by more than a thousandth: 1, 1.2, 1.6, 2, 2.4, 3, 4, 5, 6 or 8 times a power of ten, all of which halve and quarter well. */
export function roundLimit(value_mm: number): number {
  if (!(value_mm > 0) || !Number.isFinite(value_mm)) return 1;
  const [mantissa, exponent] = value_mm.toExponential(12).split('e');
  const step = [1, 1.2, 1.6, 2, 2.4, 3, 4, 5, 6, 8].find(s => s >= Number(mantissa) - 1e-3);
  return step === undefined ? Number(`1e${Number(exponent) + 1}`) : Number(`${step}e${exponent}`);
}
