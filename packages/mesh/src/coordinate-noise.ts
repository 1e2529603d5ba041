import type { Mesh } from './types.ts';

export interface CoordinateNoise {
  /** How far a vertex may lie from where it belongs and still count as exact, mm. */
  readonly distance: number;
  /** Of the bounds of the finite coordinates, mm; 0 for an empty mesh. */
  readonly diagonal: number;
}

/**
 * What rounding does to the coordinates of a mesh: 1e-6 of the diagonal, or four units in the last place of the
 * largest 32-bit coordinate, or one step of the decimal grid that all coordinates lie on (a text file that was
 * written with two to five decimals), whichever is largest; the grid counts up to 1e-4 of the diagonal.
 */
export function coordinateNoise({ positions: p }: Mesh): CoordinateNoise {
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i + 2 < p.length; i += 3) {
    for (let k = 0; k < 3; k++) {
      const c = p[i + k];
      if (c < low[k] && c > -Infinity) low[k] = c;
      if (c > high[k] && c < Infinity) high[k] = c;
    }
  }
  const diagonal = Math.hypot(high[0] - low[0], high[1] - low[1], high[2] - low[2]);
  if (!Number.isFinite(diagonal)) return { distance: 0, diagonal: 0 };
  const largest = Math.max(...low.map(Math.abs), ...high.map(Math.abs));
  const distance = Math.max(1e-6 * diagonal, 4 * 2 ** -24 * largest);
  const grid = decimalGrid(p, largest);
  return { distance: grid <= 1e-4 * diagonal ? Math.max(distance, grid) : distance, diagonal };
}

/** Step of the coarsest decimal grid (0.01 … 0.00001) that every looked-at coordinate lies on; 0 when on none. */
function decimalGrid(p: Mesh['positions'], largest: number): number {
  const stride = Math.max(1, Math.floor(p.length / 3000));
  for (const decimals of [2, 3, 4, 5]) {
    const scale = 10 ** decimals;
    // In 32 bits a decimal is itself rounded; a grid finer than that cannot be seen.
    const slack = p instanceof Float32Array ? 2 ** -23 * largest * scale : 1e-9 * largest * scale;
    if (slack > 0.05) return 0;
    let onGrid = true;
    for (let i = 0; i < p.length && onGrid; i += stride) {
      const scaled = p[i] * scale;
      onGrid = Math.abs(scaled - Math.round(scaled)) <= slack + 1e-9;
    }
    if (onGrid) return 1 / scale;
  }
  return 0;
}
