import type { ShapeSummary } from './shape-summary.ts';

/**
 * How far apart two shapes are by their summaries: about the largest relative difference of their lengths. 0 for
 * congruent shapes (mirrored ones included); a scaled copy costs a quarter of the logarithm of its factor. A lower
 * bound of nothing: it only says which pairs are worth comparing. Symmetric.
 */
export function shapeDistance(a: ShapeSummary, b: ShapeSummary): number {
  const lengthsA = lengths(a);
  const lengthsB = lengths(b);
  const ratios: number[] = [];
  for (let i = 0; i < 5; i++) {
    const [p, q] = [lengthsA[i], lengthsB[i]];
    // Where one has no volume, nothing is known of the other's either.
    if (Number.isNaN(p) || Number.isNaN(q)) continue;
    ratios.push(Math.log(p) - Math.log(q));
  }
  const scale = (ratios[0] + ratios[1] + ratios[2]) / 3;
  const asIs = Math.max(...ratios.map(Math.abs));
  const scaled = 0.01 + Math.max(...ratios.map(ratio => Math.abs(ratio - scale))) + Math.abs(scale) / 4;
  return Math.min(asIs, scaled) + boreCost * (1 - sharedBores(a.bores_mm, b.bores_mm));
}

/** Bores are few and often the very thing that changed: they only break ties. */
const boreCost = 0.05;

/** Stands for lengths of 0, whose logarithm would be infinite. */
const nothing = 1e-100;

function lengths(shape: ShapeSummary): number[] {
  // A flat sheet has one spread of rounding size, whose ratio would mean nothing.
  const least = Math.max(shape.spread_mm[2] * 1e-6, nothing);
  return [
    ...shape.spread_mm.map(value => Math.max(value, least)),
    Math.sqrt(Math.max(shape.area_mm2, nothing)),
    shape.volume_mm3 === null ? NaN : Math.cbrt(Math.max(shape.volume_mm3, nothing)),
  ];
}

/** Share of bores with a counterpart of the same diameter within 1 %; 1 when neither has any. */
function sharedBores(a: readonly number[], b: readonly number[]): number {
  const most = Math.max(a.length, b.length);
  if (most === 0) return 1;
  let [i, j, shared] = [0, 0, 0];
  while (i < a.length && j < b.length) {
    if (Math.abs(a[i] - b[j]) <= 0.01 * Math.max(a[i], b[j])) [i, j, shared] = [i + 1, j + 1, shared + 1];
    else if (a[i] < b[j]) i++;
    else j++;
  }
  return shared / most;
}
