import type { ShapeSummary } from '@kinprint/compare';

/** How one shape's lengths stand to another's. */
export interface ScaledLikeness {
  /** By which factor the second is larger. */
  readonly factor: number;
  /** Largest relative difference of their lengths after that factor: 0 for scaled and mirrored copies. */
  readonly rest: number;
}

/** The factor that makes two summaries most alike, and what difference is left. null for shapes without extent. */
export function scaledLikeness(a: ShapeSummary, b: ShapeSummary): ScaledLikeness | null {
  const pairs: [number, number][] = [
    [a.spread_mm[2], b.spread_mm[2]],
    [a.spread_mm[1], b.spread_mm[1]],
    [Math.sqrt(a.area_mm2), Math.sqrt(b.area_mm2)],
  ];
  if (a.volume_mm3 !== null && b.volume_mm3 !== null)
    pairs.push([Math.cbrt(a.volume_mm3), Math.cbrt(b.volume_mm3)]);
  const ratios = pairs.map(([p, q]) => Math.log(q / p));
  if (!ratios.every(Number.isFinite)) return null;
  const mean = ratios.reduce((sum, ratio) => sum + ratio, 0) / ratios.length;
  return { factor: Math.exp(mean), rest: Math.max(...ratios.map(ratio => Math.abs(ratio - mean))) };
}
