import { expect, it } from 'vitest';
import { undrawnLine } from './undrawn-words.ts';

const late = { kind: 'undrawn', reason: 'drawing it took longer than 60 s' } as const;

it('tells in one line how many parts have no picture, and of the first which and why', () => {
  expect(undrawnLine({ undrawn: [] })).toBeNull();
  const one = { name: 'cuff/right-58/shell', why: late };
  expect(undrawnLine({ undrawn: [one] })).toBe(
    'There is no picture of 1 part: cuff/right-58/shell (drawing it took longer than 60 s).',
  );
  const other = { name: 'cuff/right-58/leaf', why: late };
  expect(undrawnLine({ undrawn: [one, other, other] })).toBe(
    'There is no picture of 3 parts: cuff/right-58/shell (drawing it took longer than 60 s) and 2 more.',
  );
});
