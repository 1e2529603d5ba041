import { expect, test } from 'vitest';
import { noCache } from '../cache/cache.ts';
import { box } from '../../../mesh/src/testing/shapes.ts';
import { scaled, translated } from '../../../mesh/src/testing/motions.ts';
import { keptKinship } from './kept-kinship.ts';
import { verifyKin } from './verify-kin.ts';

const found = verifyKin(box(9, 6, 20), translated(scaled(box(9, 6, 20), 1.12), [30, 0, 0]));

test('what was found once is not looked for again, relatives and strangers alike', async () => {
  const cache = noCache();
  expect(found?.relation).toBe('rescaled');
  for (const [key, kinship] of [['kin', found] as const, ['strangers', null] as const]) {
    expect(await keptKinship(cache, key, () => Promise.resolve(kinship))).toEqual(kinship);
    const again = keptKinship(cache, key, () => Promise.reject(new Error('Looked for again.')));
    expect(await again).toEqual(kinship);
  }
});

test('what could not be told is asked again, and so is what has no key', async () => {
  const cache = noCache();
  expect(await keptKinship(cache, 'pair', () => Promise.resolve(undefined))).toBeNull();
  expect(await keptKinship(cache, 'pair', () => Promise.resolve(found))).toEqual(found);
  expect(await keptKinship(cache, null, () => Promise.resolve(found))).toEqual(found);
  expect(await keptKinship(cache, null, () => Promise.resolve(null))).toBeNull();
});

test.each([
  [42],
  [{}],
  [{ kinship: 'close' }],
  [{ kinship: { ...found, relation: 'cousin' } }],
  [{ kinship: { ...found, scale: null } }],
  [{ kinship: { ...found, deviation: { ...found?.deviation, max_at_mm: [0, 0] } } }],
])('a spoiled entry of the cache is made anew: %j', async entry => {
  const cache = noCache();
  cache.put('kinship', 2, 'pair', entry);
  expect(await keptKinship(cache, 'pair', () => Promise.resolve(found))).toEqual(found);
});
