import { describe, expect, it } from 'vitest';
import { box } from '../testing/shapes.ts';
import type { Vec3 } from '../types.ts';
import { footprint } from './footprint.ts';

/** Shoelace formula. */
function areaOf(outline: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < outline.length; k += 2) {
    const next = (k + 2) % outline.length;
    sum += outline[k] * outline[next + 1] - outline[next] * outline[k + 1];
  }
  return sum / 2;
}

describe('footprint', () => {
  const block = box(20, 30, 10);

  it.each<readonly [Vec3, number, number]>([
    [[0, 0, -1], 10, 600],
    [[0, 0, 2], 10, 600],
    [[-1, 0, 0], 20, 300],
    [[0, 5, 0], 30, 200],
  ])('of a box of 20 × 30 × 10 with %j down', (down, height, area) => {
    const found = footprint(block, down);
    expect(found.height_mm).toBeCloseTo(height, 12);
    expect(areaOf(found.outline)).toBeCloseTo(area, 9);
  });

  it('of a box on its corner: height and shadow by the sums of projections', () => {
    // For a box of edges a, b, c and a unit direction n: height a|n₁| + b|n₂| + c|n₃| (support function of a box), shadow
    // bc|n₁| + ca|n₂| + ab|n₃| (Cauchy: half the sum of the projected faces).
    const down: Vec3 = [1, -2, 3];
    const n = down.map(v => Math.abs(v) / Math.hypot(...down));
    const found = footprint(block, down);
    expect(found.height_mm).toBeCloseTo(20 * n[0] + 30 * n[1] + 10 * n[2], 9);
    expect(areaOf(found.outline)).toBeCloseTo(300 * n[0] + 200 * n[1] + 600 * n[2], 9);
  });

  it("keeps the file's x and y for a part that stands as it is stored", () => {
    expect([...footprint(block, [0, 0, -1]).outline]).toEqual([0, 0, 20, 0, 20, 30, 0, 30]);
  });

  it('counts no vertex that no face has', () => {
    const far = { positions: [...block.positions, 900, 900, 900], triangles: block.triangles };
    const found = footprint({ ...far, positions: Float64Array.from(far.positions) }, [0, 0, -1]);
    expect(found.height_mm).toBe(10);
    expect(areaOf(found.outline)).toBe(600);
  });
});
