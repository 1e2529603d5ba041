import { expect, it } from 'vitest';
import { frameOf, frameOfBox } from './frame.ts';
import { boxMesh } from './testing/shapes.ts';

it('leaves what stands near the origin where it is, and scales by powers of two', () => {
  expect(frameOf(boxMesh([0, 0, 0], [20, 30, 50]))).toEqual({ center: [0, 0, 0], scale: 1 / 16 });
  expect(frameOfBox({ min: [0, 0, 0], max: [0.01, 0.01, 0.01] }).scale).toBe(256);
});

it('moves far axes only, by numbers that single precision subtracts without loss', () => {
  const { center } = frameOf(boxMesh([1000, 0, -3000], [1010, 10, -2990]));
  expect(center).toEqual([1005, 0, -2995]);
  const x = Math.fround(1003.3);
  expect(Math.fround(x - center[0])).toBe(x - center[0]);
});

it('a mesh without size or faces gets a frame that changes nothing; loose vertices do not count', () => {
  const still = { center: [0, 0, 0], scale: 1 };
  expect(frameOf({ positions: Float64Array.of(5, 5, 5), triangles: new Uint32Array(0) })).toEqual(still);
  expect(frameOf({ positions: Float64Array.of(5, 5, 5), triangles: Uint32Array.of(0, 0, 0) })).toEqual(still);
  const { positions, triangles } = boxMesh([0, 0, 0], [1, 1, 1]);
  expect(frameOf({ positions: Float64Array.of(...positions, 1e6, 0, 0), triangles }).scale).toBe(2);
});
