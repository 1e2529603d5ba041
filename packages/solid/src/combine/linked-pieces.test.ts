import { massProperties, type Mesh } from '@kinprint/mesh';
import { beforeAll, describe, expect, it } from 'vitest';
import { loadKernel, type Kernel } from '../kernel.ts';
import { union } from '../solids.ts';
import { boxMesh } from '../testing/shapes.ts';
import { linkedPieces } from './linked-pieces.ts';
import { combineAll, turned } from './testing.ts';
import type { Take } from './types.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

const volume = (mesh: Mesh) => massProperties(mesh).volume;

describe('pieces of one remix that touch', () => {
  it('are reached over any chain, and nothing else is looked at', () => {
    const asked: string[] = [];
    const touch = (p: number, q: number): boolean => {
      asked.push(`${p}${q}`);
      return Math.abs(p - q) === 1 && p + q !== 5;
    };
    expect(linkedPieces([1], [0, 1, 2, 3, 4], touch)).toEqual([
      [1, 0],
      [1, 2],
    ]);
    expect(asked.some(pair => pair.startsWith('3') || pair.startsWith('4'))).toBe(false);
    expect(linkedPieces([1, 3], [0, 1, 2, 3, 4], touch).flat().sort()).toEqual([0, 1, 1, 2, 3, 4]);
  });

  /** A bar turned a little about its middle adds and removes two wedges each, which meet in its edges. */
  it('go in or stay out together: of a bar that was turned no half is left', () => {
    const bar = boxMesh([-20, -2, 0], [20, 2, 6]);
    const tilted = turned(bar, 0.1, 0);
    const studded = union(kernel, [bar, boxMesh([14, 1, 2], [18, 5, 4])]);
    const wanted: readonly (readonly [Take, Mesh])[] = [
      ['a', tilted],
      ['b', studded],
      ['none', bar],
      ['both', union(kernel, [tilted, boxMesh([14, 1, 2], [18, 5, 4])])],
    ];
    for (const [take, expected] of wanted) {
      const { changes, contact, made } = combineAll(kernel, bar, tilted, studded, () => take);
      expect(changes.a.pieces.length).toBeGreaterThanOrEqual(4);
      expect(contact.conflicts).toHaveLength(1);
      expect(contact.conflicts[0].pieces.a).toEqual([...changes.a.pieces.keys()]);
      expect(volume(made.mesh)).toBeCloseTo(volume(expected), 1);
    }
  }, 60_000);
});
