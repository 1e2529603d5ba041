import { buildTree, type Vec3 } from '@kinprint/mesh';
import { describe, expect, it } from 'vitest';
import { concatenate } from '@kinprint/mesh';
import { box } from '../pictures/testing/shapes.ts';
import { surfaceOf } from '../pictures/surface.ts';
import { bestLook } from './best-look.ts';

const walls = (open: 'x' | 'z'): ReturnType<typeof box> => {
  // Four walls around a room of 10 × 10 × 10 and what closes it on all sides but one.
  const sides: [Vec3, Vec3][] = [
    [
      [-1, -1, -1],
      [0, 11, 11],
    ],
    [
      [10, -1, -1],
      [11, 11, 11],
    ],
    [
      [0, -1, -1],
      [10, 0, 11],
    ],
    [
      [0, 10, -1],
      [10, 11, 11],
    ],
    [
      [0, 0, -1],
      [10, 10, 0],
    ],
    [
      [0, 0, 10],
      [10, 10, 11],
    ],
  ];
  const left = open === 'x' ? sides.filter((_, k) => k !== 1) : sides.filter((_, k) => k !== 5);
  return concatenate(left.map(([min, max]) => box(min, max)));
};

describe('the direction to look at a piece from', () => {
  it.each([
    ['x', 0],
    ['z', 2],
  ] as const)('is through the opening, where it stands in a room that is open toward %s', (open, axis) => {
    const piece = surfaceOf(box([3, 3, 3], [7, 7, 7]));
    const toward = bestLook(piece, buildTree(walls(open)), 20);
    expect(toward[axis]).toBeGreaterThan(0.4);
    for (const other of [0, 1, 2].filter(k => k !== axis)) expect(Math.abs(toward[other])).toBeLessThan(0.8);
  });

  it('is the three-quarter view where nothing stands before it', () => {
    const piece = box([3, 3, 3], [7, 7, 7]);
    const [x, y, z] = bestLook(surfaceOf(piece), buildTree(piece), 10);
    expect([x, -y, z].every(v => v > 0.4)).toBe(true);
  });
});
