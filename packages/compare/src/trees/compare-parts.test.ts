import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Comparison, Verdict } from '../comparison.ts';
import { noAlignment } from '../fixed-alignments.ts';
import { compareParts } from './compare-parts.ts';
import type { TreeWork, Trouble } from './outcome.ts';
import type { ShapeSummary } from './shape-summary.ts';
import type { EntryInfo, PartComparison } from './types.ts';

/**
 * Files as lists of bodies, each a kind of shape and an edition of it, or its mirror image. Two bodies of one kind and
 * edition are the same shape; of one kind only, reworked; else replaced. This stands in for geometry: what is tested
 * is pairing.
 */
type Body = readonly [kind: number, edition: number, hand?: 'mirrored'];
type Files = Readonly<Record<string, readonly Body[] | 'broken'>>;

function shapeOf(bodies: readonly Body[]): ShapeSummary {
  const size = bodies.reduce((sum, [kind, edition]) => sum + 2 ** kind * (1 + 0.02 * edition), 0);
  return { area_mm2: size ** 2, volume_mm3: size ** 3, spread_mm: [size, 2 * size, 3 * size], bores_mm: [] };
}

function verdictOf(a: readonly Body[], b: readonly Body[]): Verdict {
  if (JSON.stringify(a) === JSON.stringify(b)) return 'moved';
  const handless = (bodies: readonly Body[]) =>
    JSON.stringify(bodies.map(([kind, edition]) => [kind, edition]));
  if (handless(a) === handless(b)) return 'mirrored';
  return a.length === b.length && a.every(([kind], i) => kind === b[i][0]) ? 'reworked' : 'replaced';
}

function entriesOf(files: Files): EntryInfo[] {
  return Object.entries(files).map(([path, bodies]) => ({
    path,
    size: 1,
    digest: `x:${JSON.stringify(bodies)}`,
  }));
}

function workOn(before: Files, after: Files): TreeWork & { compared: string[] } {
  const compared: string[] = [];
  const sides = { before, after };
  const trouble = (side: 'before' | 'after'): Trouble => ({
    verdict: 'unreadable',
    problem: { code: 'stl-truncated', side, text: 'broken', remedy: 'mend' },
  });
  return {
    compared,
    summarize(side, path) {
      const bodies = sides[side][path];
      if (bodies === 'broken') return Promise.resolve(trouble(side));
      return Promise.resolve({ whole: shapeOf(bodies), bodies: bodies.map(body => shapeOf([body])) });
    },
    compare(from, to) {
      compared.push(`${from.path}#${from.body} ${to.path}#${to.body}`);
      const [a, b] = [before[from.path], after[to.path]];
      if (a === 'broken' || b === 'broken')
        return Promise.resolve(trouble(a === 'broken' ? 'before' : 'after'));
      const verdict = verdictOf(from.body === null ? a : [a[from.body]], to.body === null ? b : [b[to.body]]);
      const volume = { before_mm3: 1, after_mm3: 1, added_mm3: 1, removed_mm3: 1 };
      const alignment = {
        ...noAlignment,
        matched: verdict === 'replaced' ? 0 : 0.8,
        mirrored: verdict === 'mirrored',
      };
      return Promise.resolve({ verdict, alignment, volume } as Comparison);
    },
  };
}

const treeOf = (before: Files, after: Files) =>
  compareParts(entriesOf(before), entriesOf(after), workOn(before, after));

async function lines(before: Files, after: Files): Promise<string[]> {
  return (await treeOf(before, after)).parts.map(line).sort();
}

const noteTexts = async (before: Files, after: Files): Promise<string[]> =>
  (await treeOf(before, after)).notes.map(note => note.text);

function line({ before, after, pairing, verdict, bodies }: PartComparison): string {
  const some = (list: readonly number[] | null) => (list === null ? '' : `#${list.join(',')}`);
  return `${before}${some(bodies.before)} → ${after}${some(bodies.after)}: ${pairing}, ${verdict}`;
}

const A: readonly Body[] = [[1, 0]];
const A2: readonly Body[] = [[1, 1]];
const mirrorA: readonly Body[] = [[1, 0, 'mirrored']];
const B: readonly Body[] = [[5, 0]];
const B2: readonly Body[] = [[5, 1]];
const C: readonly Body[] = [[8, 0]];

describe('compareParts', () => {
  test('renamed and changed, added, removed', async () => {
    expect(await lines({ 'a.stl': A, 'b.stl': B }, { 'a-v2.stl': A2, 'c.stl': C })).toEqual([
      'a.stl → a-v2.stl: shape, reworked',
      'b.stl → null: removed, removed',
      'null → c.stl: added, added',
    ]);
  });

  test('names that were swapped, and a file put in place of a renamed one', async () => {
    expect(await lines({ 'a.stl': A, 'b.stl': B }, { 'a.stl': B, 'b.stl': A })).toEqual([
      'a.stl → b.stl: content, identical',
      'b.stl → a.stl: content, identical',
    ]);
    expect(await lines({ 'a.stl': A }, { 'a.stl': C, 'a-old.stl': A })).toEqual([
      'a.stl → a-old.stl: content, identical',
      'null → a.stl: added, added',
    ]);
    // A changed file whose old state was kept aside stays paired by path.
    expect(await lines({ 'a.stl': A }, { 'a.stl': A2, 'a-old.stl': A })).toEqual([
      'a.stl → a-old.stl: copy, identical',
      'a.stl → a.stl: path, reworked',
    ]);
    expect(await lines({ 'a.stl': A }, { 'a.stl': C })).toEqual(['a.stl → a.stl: path, replaced']);
  });

  test('plates: gathered and taken apart, with a strange body, with copies', async () => {
    const plate: readonly Body[] = [
      [5, 0],
      [1, 0],
      [8, 0],
      [1, 0],
    ];
    const separate = { 'a.stl': A, 'b.stl': B };
    expect(await lines(separate, { 'plate.stl': plate })).toEqual([
      'a.stl → plate.stl#1,3: gathered, moved',
      'b.stl → plate.stl#0: gathered, moved',
      'null → plate.stl#2: added, added',
    ]);
    expect(await lines({ 'plate.stl': plate }, separate)).toEqual([
      'plate.stl#0 → b.stl: split, moved',
      'plate.stl#1,3 → a.stl: split, moved',
      'plate.stl#2 → null: removed, removed',
    ]);
    // Parts that stay beside the plate keep their own rows.
    expect(await lines(separate, { ...separate, 'plate.stl': plate })).toEqual([
      'a.stl → a.stl: path, identical',
      'a.stl → plate.stl#1,3: gathered, moved',
      'b.stl → b.stl: path, identical',
      'b.stl → plate.stl#0: gathered, moved',
      'null → plate.stl#2: added, added',
    ]);
  });

  test('a plate that is gone: files of AFTER keep their one line, a note says where its bodies stand', async () => {
    const all: readonly Body[] = [
      [1, 0],
      [5, 0],
      [8, 0],
    ];
    const before: Files = { 'all.stl': all, 'left.stl': A, 'right.stl': mirrorA, 'b.stl': B };
    const after: Files = { 'one.stl': A, 'right.stl': mirrorA, 'b.stl': B2, 'two.stl': B, 'three.stl': C };
    expect(await lines(before, after)).toEqual([
      'all.stl#2 → three.stl: split, moved',
      'b.stl → b.stl: path, reworked',
      'b.stl → two.stl: copy, identical',
      'left.stl → one.stl: content, identical',
      'right.stl → right.stl: path, identical',
    ]);
    expect(await noteTexts(before, after)).toEqual([
      'all.stl is gone; its bodies stand in one.stl, three.stl, two.stl.',
    ]);
    const beside = { 'left.stl': A, 'b.stl': B };
    expect(await lines({ ...beside, 'all.stl': all }, beside)).toContain(
      'all.stl#2 → null: removed, removed',
    );
    expect(await noteTexts({ ...beside, 'all.stl': all }, beside)).toEqual([
      'all.stl is gone; 2 of its 3 bodies stand in b.stl, left.stl.',
    ]);
    expect(await lines({ ...beside, 'all.stl': all.slice(0, 2) }, beside)).toEqual([
      'all.stl → null: removed, removed',
      'b.stl → b.stl: path, identical',
      'left.stl → left.stl: path, identical',
    ]);
    // Nothing to remark where each body has its line.
    expect(await noteTexts({ 'all.stl': all }, { 'a.stl': A, 'b.stl': B, 'c.stl': C })).toEqual([]);
  });

  test('a dropped copy is removed', async () => {
    const before: Files = { 'a.stl': A, 'spare/a.stl': A };
    expect(await lines(before, { 'a.stl': A })).toEqual([
      'a.stl → a.stl: path, identical',
      'spare/a.stl → null: removed, removed',
    ]);
    expect(await noteTexts(before, { 'a.stl': A })).toEqual([
      'spare/a.stl is gone; the same content stands in a.stl.',
    ]);
  });

  test('a changed copy or a twin beside its origin', async () => {
    expect(await lines({ 'a.stl': A }, { 'a.stl': A, 'a-wide.stl': A2, 'c.stl': C })).toEqual([
      'a.stl → a-wide.stl: copy, reworked',
      'a.stl → a.stl: path, identical',
      'null → c.stl: added, added',
    ]);
    // The origin was moved with its content unchanged, and a changed variant of it kept.
    expect(await lines({ 'old/left.stl': A }, { 'new/one.stl': A, 'new/left.stl': A2 })).toEqual([
      'old/left.stl → new/left.stl: copy, reworked',
      'old/left.stl → new/one.stl: content, identical',
    ]);
    expect(await lines({ 'left.stl': A }, { 'left.stl': A, 'right.stl': mirrorA })).toEqual([
      'left.stl → left.stl: path, identical',
      'left.stl → right.stl: copy, mirrored',
    ]);
  });

  test('the shape itself wins over its mirror image, whatever the names', async () => {
    const twins: Files = { 'p/left.stl': [[1, 0]], 'p/right.stl': [[1, 0, 'mirrored']] };
    const plate: Files = {
      'plate.stl': [
        [1, 0, 'mirrored'],
        [1, 0],
      ],
    };
    expect(await lines(twins, plate)).toEqual([
      'p/left.stl → plate.stl#1: gathered, moved',
      'p/right.stl → plate.stl#0: gathered, moved',
    ]);
    const renamed = await compareParts(
      [
        { path: 'left.stl', size: 1, digest: 'x:1' },
        { path: 'right.stl', size: 1, digest: 'x:2' },
      ],
      [
        { path: 'left-1.stl', size: 1, digest: 'x:3' },
        { path: 'right-1.stl', size: 1, digest: 'x:4' },
      ],
      workOn({ 'left.stl': A, 'right.stl': mirrorA }, { 'left-1.stl': mirrorA, 'right-1.stl': A }),
    );
    expect(renamed.parts.map(line).sort()).toEqual([
      'left.stl → right-1.stl: shape, moved',
      'right.stl → left-1.stl: shape, moved',
    ]);
  });

  test('an unreadable file is a part with its problem; equal contents are not read', async () => {
    const before: Files = { 'a.stl': A, 'bad.stl': 'broken' };
    const after: Files = { 'a.stl': A, 'bad.stl': A2 };
    const work = workOn(before, after);
    const tree = await compareParts(entriesOf(before), entriesOf(after), work);
    expect(tree.parts.map(line)).toEqual([
      'bad.stl → bad.stl: path, unreadable',
      'a.stl → a.stl: path, identical',
    ]);
    expect(tree.parts[0].problem).toMatchObject({ code: 'stl-truncated', side: 'before' });
    expect(work.compared).toEqual(['bad.stl#null bad.stl#null']);
    expect(tree.totals).toMatchObject({ parts: 2, unreadable: 1, identical: 1, reworked: 0 });
    expect(await lines({}, { 'new.stl': 'broken' })).toEqual(['null → new.stl: added, unreadable']);
  });

  const body = fc
    .tuple(fc.integer({ min: 1, max: 4 }), fc.integer({ min: 0, max: 1 }), fc.boolean())
    .map(([kind, edition, mirrored]): Body => (mirrored ? [kind, edition, 'mirrored'] : [kind, edition]));
  const files: fc.Arbitrary<Files> = fc.dictionary(
    fc.constantFrom('shell.stl', 'clip.stl', 'plate.stl', 'old/clip.stl', 'x.obj'),
    fc.oneof(fc.array(body, { minLength: 1, maxLength: 3 }), fc.constant('broken' as const)),
  );

  test('every file is accounted for', async () => {
    await fc.assert(
      fc.asyncProperty(files, files, async (before, after) => {
        const tree = await compareParts(entriesOf(before), entriesOf(after), workOn(before, after));
        for (const [side, all] of [
          ['before', before],
          ['after', after],
        ] as const) {
          const named = tree.parts.flatMap(part => part[side] ?? []);
          expect([...new Set(named)].sort()).toEqual(Object.keys(all).sort());
          const single = tree.parts
            .filter(part => ['path', 'content', 'shape'].includes(part.pairing))
            .flatMap(part => part[side] ?? []);
          expect(new Set(single).size).toBe(single.length);
        }
        const { parts, ...byVerdict } = tree.totals;
        expect(parts).toBe(tree.parts.length);
        expect(Object.values(byVerdict).reduce((a, b) => a + b, 0)).toBe(parts);
      }),
    );
  });

  test('the order of the entries does not matter', async () => {
    await fc.assert(
      fc.asyncProperty(files, files, async (before, after) => {
        const work = workOn(before, after);
        const there = await compareParts(entriesOf(before), entriesOf(after), work);
        const mixed = await compareParts(entriesOf(before).reverse(), entriesOf(after).reverse(), work);
        expect(mixed.parts.map(line)).toEqual(there.parts.map(line));
      }),
    );
  });

  test('every file of AFTER, or each of its bodies, has one line; so has every body of a split file', async () => {
    await fc.assert(
      fc.asyncProperty(files, files, async (before, after) => {
        const { parts } = await treeOf(before, after);
        for (const path of Object.keys(after)) {
          const own = parts.filter(part => part.after === path);
          if (own.length === 1) continue;
          const bodies = own.flatMap(
            (part): readonly (number | string)[] => part.bodies.after ?? ['the whole file'],
          );
          expect(bodies, own.map(line).join('\n')).not.toContain('the whole file');
          expect(new Set(bodies).size, own.map(line).join('\n')).toBe(bodies.length);
        }
        for (const path of Object.keys(before)) {
          const own = parts.filter(
            part => part.before === path && ['split', 'removed'].includes(part.pairing),
          );
          const bodies = own.flatMap(part => part.bodies.before ?? []);
          expect(new Set(bodies).size, own.map(line).join('\n')).toBe(bodies.length);
        }
      }),
    );
  });

  test('the other way round, what was added was removed; what else was removed came from a file that had more descendants', async () => {
    await fc.assert(
      fc.asyncProperty(files, files, async (before, after) => {
        const there = await treeOf(before, after);
        const back = await treeOf(after, before);
        const paths = (parts: readonly PartComparison[], side: 'before' | 'after', ...pairings: string[]) =>
          parts.flatMap(part => (pairings.includes(part.pairing) ? (part[side] ?? []) : [])).sort();
        for (const [one, other] of [
          [there, back],
          [back, there],
        ] as const) {
          const added = paths(one.parts, 'after', 'added');
          const removed = paths(other.parts, 'before', 'removed');
          expect(removed).toEqual(expect.arrayContaining(added));
          const more = removed.filter(path => !added.includes(path));
          expect(paths(one.parts, 'after', 'copy', 'gathered')).toEqual(expect.arrayContaining(more));
        }
      }),
    );
  });
});
