import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { pairByPathAndContent } from './pair-by-content.ts';
import type { EntryInfo } from './types.ts';

const entry = (path: string, digest: string | null): EntryInfo => ({ path, size: 1, digest });

/** Trees with few names and few contents, so that everything meets everything. */
const tree = fc.uniqueArray(
  fc.record({
    path: fc.constantFrom(
      'shell.stl',
      'clip.stl',
      'old/shell.stl',
      'old/clip.stl',
      'shell-v2.stl',
      'a/b/c.obj',
      'x.3mf',
    ),
    size: fc.constant(1),
    digest: fc.option(fc.constantFrom('sha256:1', 'sha256:2', 'sha256:3')),
  }),
  { selector: item => item.path },
);

type Pairs = ReturnType<typeof pairByPathAndContent>;
const lines = ({ pairs }: Pairs): string[] =>
  pairs.map(pair => `${pair.before.path}|${pair.after.path}|${pair.pairing}`).sort();
const paths = (entries: readonly EntryInfo[]): string[] => entries.map(item => item.path).sort();

describe('pairByPathAndContent', () => {
  test('path first, then content, then copies', () => {
    const before = [entry('shell.stl', '1'), entry('clip.stl', '2'), entry('gone.stl', '4')];
    const after = [
      entry('shell.stl', '9'),
      entry('snap-clip.stl', '2'),
      entry('spare/snap-clip.stl', '2'),
      entry('new.stl', '5'),
    ];
    const result = pairByPathAndContent(before, after);
    expect(lines(result)).toEqual([
      'clip.stl|snap-clip.stl|content',
      'clip.stl|spare/snap-clip.stl|copy',
      'shell.stl|shell.stl|path',
    ]);
    expect(paths(result.restBefore)).toEqual(['gone.stl']);
    expect(paths(result.restAfter)).toEqual(['new.stl']);
  });

  test('among equal contents, the most alike names go together', () => {
    const before = [entry('parts/left-clip.stl', '1'), entry('parts/right-clip.stl', '1')];
    const after = [entry('v2/right-clip.stl', '1'), entry('v2/left-clip.stl', '1')];
    expect(lines(pairByPathAndContent(before, after))).toEqual([
      'parts/left-clip.stl|v2/left-clip.stl|content',
      'parts/right-clip.stl|v2/right-clip.stl|content',
    ]);
  });

  test('unknown contents never match', () => {
    expect(pairByPathAndContent([entry('a', null)], [entry('b', null)]).pairs).toEqual([]);
  });

  test('every entry is used exactly once, but for the known half of a copy', () => {
    fc.assert(
      fc.property(tree, tree, (before, after) => {
        const result = pairByPathAndContent(before, after);
        for (const [side, entries, rest] of [
          ['before', before, result.restBefore],
          ['after', after, result.restAfter],
        ] as const) {
          const single = result.pairs.filter(pair => pair.pairing !== 'copy').map(pair => pair[side].path);
          const copies = result.pairs.filter(pair => pair.pairing === 'copy').map(pair => pair[side].path);
          expect(new Set(single).size).toBe(single.length);
          expect([...new Set([...single, ...copies, ...paths(rest)])].sort()).toEqual(paths(entries));
          expect(rest.some(item => single.includes(item.path) || copies.includes(item.path))).toBe(false);
        }
        for (const pair of result.pairs)
          if (pair.pairing === 'path') expect(pair.before.path).toBe(pair.after.path);
          else expect(pair.before.digest).toBe(pair.after.digest);
        // Nothing that could be paired is left over.
        const contents = new Set(before.map(item => item.digest));
        expect(result.restAfter.some(item => item.digest !== null && contents.has(item.digest))).toBe(false);
      }),
    );
  });

  test('the order of the entries does not matter', () => {
    fc.assert(
      fc.property(tree, tree, fc.infiniteStream(fc.nat()), (before, after, keys) => {
        const mixed = (entries: readonly EntryInfo[]) =>
          entries
            .map(item => ({ item, key: keys.next().value as number }))
            .sort((a, b) => a.key - b.key)
            .map(({ item }) => item);
        expect(lines(pairByPathAndContent(mixed(before), mixed(after)))).toEqual(
          lines(pairByPathAndContent(before, after)),
        );
      }),
    );
  });

  test('swapping the trees swaps the halves', () => {
    fc.assert(
      fc.property(tree, tree, (before, after) => {
        const there = pairByPathAndContent(before, after);
        const back = pairByPathAndContent(after, before);
        const swapped = back.pairs
          .map(pair => `${pair.after.path}|${pair.before.path}|${pair.pairing}`)
          .sort();
        expect(swapped).toEqual(lines(there));
        expect(paths(back.restBefore)).toEqual(paths(there.restAfter));
      }),
    );
  });
});
