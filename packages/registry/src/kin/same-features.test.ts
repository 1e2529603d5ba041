import { describe, expect, it } from 'vitest';
import { box, tube } from '../../../mesh/src/testing/shapes.ts';
import { sameFeatures } from './same-features.ts';
import { verifyKin } from './verify-kin.ts';

describe('sameFeatures', () => {
  it('agrees where nothing differs, and not where a plane was shifted', () => {
    expect(sameFeatures(box(10, 20, 30), box(10, 20, 30), 0.01, 0.1)).toBe(true);
    expect(sameFeatures(box(10, 20, 30), box(10, 20, 30.05), 0.01, 0.1)).toBe(false);
  });

  it('agrees where facets differ, and not where a bore does', () => {
    expect(sameFeatures(tube(48, 10, 6, 20), tube(64, 10, 6, 20), 0.01, 0.1)).toBe(true);
    expect(sameFeatures(tube(48, 10, 6, 20), tube(48, 10, 5.9, 20), 0.01, 0.1)).toBe(false);
  });
});

describe('verifyKin', () => {
  // A chord of n sides of a circle of radius r lies up to r (1 − cos π/n) within it.
  it('takes another chord tolerance for the same shape, and a slightly narrower bore for a rework', () => {
    const facets = verifyKin(tube(48, 10, 6, 4), tube(96, 10, 6, 4));
    expect(facets?.other_facets).toBe(true);
    expect(facets?.relation).not.toBe('reworked');
    const chord = (n: number): number => 10 * (1 - Math.cos(Math.PI / n));
    expect(facets?.deviation.max_mm).toBeLessThan(chord(48) + chord(96) + 1e-4);
    const narrower = verifyKin(tube(48, 10, 6, 4), tube(96, 10, 5.95, 4));
    expect(narrower).toMatchObject({ relation: 'reworked', other_facets: false });
  });
});
