import fc from 'fast-check';
import { buildTree } from '@kinprint/mesh';
import { describe, expect, it } from 'vitest';
import { joined, moved, rotation, translated } from '../../../mesh/src/testing/motions.ts';
import { box, icosphere, torus } from '../../../mesh/src/testing/shapes.ts';
import { matchedShare, surfacePoints } from './matched-share.ts';

describe('surfacePoints', () => {
  it('gives every face its share of the area', () => {
    // Sides 10 × 20, 10 × 30, 20 × 30: areas 400, 600, 1200 of 2200.
    const { points, faces } = surfacePoints(box(10, 20, 30), 2200);
    expect(points).toHaveLength(6600);
    const ends = Array.from({ length: 2200 }, (_, i) => points[3 * i + 2]).filter(z => z === 0 || z === 30);
    expect(Math.abs(ends.length - 400)).toBeLessThanOrEqual(2);
    expect(new Set(faces).size).toBe(12);
  });

  it('has none where there is no area', () => {
    const flat = { positions: new Float64Array(9), triangles: Uint32Array.of(0, 1, 2) };
    expect(surfacePoints(flat, 100).points).toHaveLength(0);
    expect(matchedShare(buildTree(box(1, 1, 1)), surfacePoints(flat, 100), 1)).toBe(0);
  });
});

describe('matchedShare', () => {
  it('is the share of the area that coincides', () => {
    // Two boxes, of which one is common: 600 of 600 + 2400.
    const both = joined(box(10, 10, 10), translated(box(20, 20, 20), [100, 0, 0]));
    const share = matchedShare(buildTree(box(10, 10, 10)), surfacePoints(both, 5000), 1e-6);
    expect(Math.abs(share - 0.2)).toBeLessThanOrEqual(1 / 5000);
  });

  it('counts what lies within the tolerance of another sphere, and nothing beyond', () => {
    const tree = buildTree(icosphere(10, 4));
    const points = surfacePoints(icosphere(10.5, 4), 500);
    expect(matchedShare(tree, points, 0.52)).toBe(1);
    expect(matchedShare(tree, points, 0.45)).toBe(0);
  });

  it('applies the motion, for any motion', () => {
    fc.assert(
      fc.property(
        fc.tuple(fc.double({ min: -1, max: 1, noNaN: true }), fc.double({ min: -1, max: 1, noNaN: true })),
        ([w, x]) => {
          const mesh = torus(10, 3, 24, 12);
          const [a, b, c] = rotation(1 + w, x, 0.3, -0.2);
          const other = moved(mesh, [a, b, c], [5, 6, 7]);
          const motion = [
            [...a, 5],
            [...b, 6],
            [...c, 7],
          ] as unknown as Parameters<typeof matchedShare>[3];
          expect(matchedShare(buildTree(other), surfacePoints(mesh, 300), 1e-9, motion)).toBe(1);
          expect(matchedShare(buildTree(other), surfacePoints(mesh, 300), 1e-9)).toBeLessThan(0.1);
        },
      ),
      { numRuns: 20 },
    );
  });

  it('stops once enough can no longer be reached', () => {
    const share = matchedShare(
      buildTree(box(1, 1, 1)),
      surfacePoints(translated(box(1, 1, 1), [0, 0, 9]), 1000),
      0.1,
      null,
      0.9,
    );
    expect(share).toBeLessThan(0.9);
    expect(matchedShare(buildTree(box(1, 1, 1)), surfacePoints(box(1, 1, 1), 1000), 1e-9, null, 0.9)).toBe(1);
  });
});
