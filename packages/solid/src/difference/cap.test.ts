import { expect, it } from 'vitest';
import { loopsOf } from './cap.ts';

const edges = (...pairs: [number, number][]) => pairs.map(([from, to]) => ({ from, to }));

it('chains edges into loops, in their direction', () => {
  const loops = loopsOf(edges([1, 2], [3, 1], [2, 3], [7, 8], [8, 9], [9, 7]));
  expect(loops).toEqual([
    [1, 2, 3],
    [7, 8, 9],
  ]);
});

it('loops that meet in a vertex use every edge once', () => {
  const given = edges([0, 1], [1, 2], [2, 0], [0, 3], [3, 4], [4, 0]);
  const loops = loopsOf(given);
  const used = loops.flatMap(loop => loop.map((v, i) => `${v} ${loop[(i + 1) % loop.length]}`));
  expect(used.sort()).toEqual(given.map(({ from, to }) => `${from} ${to}`).sort());
});
