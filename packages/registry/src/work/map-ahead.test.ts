import { setTimeout } from 'node:timers/promises';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mapAhead } from './map-ahead.ts';

describe('working on some items at a time', () => {
  it('gives the results in order, and never has more in work than it may', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.integer({ min: 0, max: 3 }), { maxLength: 12 }),
        fc.integer({ min: 1, max: 5 }),
        async (delays, width) => {
          let [busy, most] = [0, 0];
          const results = await mapAhead([...delays.entries()], width, async ([k, delay]) => {
            most = Math.max(most, ++busy);
            await setTimeout(delay);
            busy--;
            return 10 * k + delay;
          });
          expect(results).toEqual(delays.map((delay, k) => 10 * k + delay));
          expect(most).toBeLessThanOrEqual(width);
          if (delays.length >= width) expect(most).toBe(Math.min(width, delays.length));
        },
      ),
      { numRuns: 30 },
    );
  });

  it('begins nothing new after a failure, and throws when nothing is in work', async () => {
    const begun: number[] = [];
    let ended = 0;
    const work = async (item: number): Promise<number> => {
      begun.push(item);
      await setTimeout(item === 1 ? 5 : 20);
      ended++;
      if (item === 1) throw new Error('of the second');
      return item;
    };
    await expect(mapAhead([0, 1, 2, 3, 4], 2, work)).rejects.toThrow('of the second');
    expect(begun).toEqual([0, 1]);
    expect(ended).toBe(2);
  });
});
