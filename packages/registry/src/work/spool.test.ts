import { existsSync, readdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { openSpool } from './spool.ts';

const spools = (): string[] => readdirSync(tmpdir()).filter(name => name.startsWith('kinprint-spool-'));

test('gives back what was put into it, from memory or from a file; and leaves nothing', async () => {
  const record = fc.record({
    name: fc.string(),
    size: fc.double(),
    none: fc.constant(null),
    bytes: fc.uint8Array({ maxLength: 400 }),
    places: fc.float64Array({ maxLength: 90 }),
    faces: fc.array(fc.uint32Array({ maxLength: 30 }), { maxLength: 3 }),
  });
  const before = spools();
  await fc.assert(
    fc.asyncProperty(fc.array(record, { maxLength: 12 }), fc.nat(3000), async (records, memory_bytes) => {
      const spool = openSpool<(typeof records)[number]>(memory_bytes);
      try {
        const kept = [];
        for (const each of records) kept.push(await spool.put(each));
        for (const [k, each] of kept.entries()) expect(await each.get()).toEqual(records[k]);
        await Promise.all(kept.map(each => each.drop()));
      } finally {
        await spool.close();
      }
    }),
    { numRuns: 40 },
  );
  expect(spools().filter(name => !before.includes(name))).toEqual([]);
});

test('what is dropped makes room in memory; what does not fit is in a file of its own user alone', async () => {
  const before = spools();
  const spool = openSpool<Uint8Array>(1000);
  const first = await spool.put(new Uint8Array(900));
  await first.drop();
  await expect(first.get()).rejects.toThrow('dropped');
  await spool.put(new Uint8Array(900));
  expect(spools()).toEqual(before);
  const large = await spool.put(new Uint8Array(900).fill(7));
  const made = spools().filter(name => !before.includes(name));
  expect(made).toHaveLength(1);
  expect(await large.get()).toEqual(new Uint8Array(900).fill(7));
  await spool.close();
  expect(existsSync(`${tmpdir()}/${made[0]}`)).toBe(false);
});
