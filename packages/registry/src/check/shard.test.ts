import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { inShard, parseShard } from './shard.ts';

describe('shards', () => {
  it('are read as I/N', () => {
    expect(parseShard('2/5')).toEqual({ index: 2, of: 5 });
    for (const text of ['0/5', '6/5', '1/0', '1', 'a/b', '1/2/3', '-1/2', ''])
      expect(() => parseShard(text)).toThrow(expect.objectContaining({ code: 'shard-malformed' }) as Error);
  });

  it('hold every variant exactly once', () => {
    fc.assert(
      fc.property(fc.string(), fc.integer({ min: 1, max: 50 }), (address, of) => {
        const holders = Array.from({ length: of }, (_, k) => ({ index: k + 1, of })).filter(s =>
          inShard(address, s),
        );
        expect(holders).toHaveLength(1);
      }),
    );
  });

  it('share evenly', () => {
    const counts = [1, 2, 3, 4].map(
      index =>
        Array.from({ length: 2000 }, (_, k) => `device-${k % 40}/variant-${k}`).filter(a =>
          inShard(a, { index, of: 4 }),
        ).length,
    );
    expect(Math.min(...counts)).toBeGreaterThan(420);
    expect(Math.max(...counts)).toBeLessThan(580);
  });
});
