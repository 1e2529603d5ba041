import { expect, it } from 'vitest';
import { place } from './words.ts';

it('writes a place with the minus sign, and no sign before a zero', () => {
  expect(place([-20.34, 0.04, -0.04])).toBe('(−20.3, 0, 0)');
  expect(place([1, 2.5, -0.06])).toBe('(1.0, 2.5, −0.1)');
});
