import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mergeValues, type MergeClash, type MergePick } from './merge-values.ts';

function merged(base: unknown, a: unknown, b: unknown, pick: MergePick | null = null) {
  const clashes: MergeClash[] = [];
  const value = mergeValues({ base, a, b }, '', clash => {
    clashes.push(clash);
    return pick;
  });
  return { value, clashes };
}

const document = {
  title: 'Cuff',
  parts: [
    { id: 'shell', quantity: 1, print: { infill_percent: 20, up: 'z' } },
    { id: 'leaf', quantity: 1, at_mm: [0, 0, 1] },
  ],
  cautions: ['Check the skin.', 'Keep from heat.'],
};

describe('merging two changed documents with the one they came from', () => {
  it('takes what one side changed, item by item', () => {
    const a = structuredClone(document);
    a.parts[0].print!.infill_percent = 40;
    a.parts.push({ id: 'pad', quantity: 2 } as never);
    const b = structuredClone(document);
    b.parts.reverse();
    b.parts[1].print!.up = '-x';
    b.parts[0].quantity = 3;
    b.cautions = ['Check the skin.', 'Wash it.'];
    const { value, clashes } = merged(document, a, b);
    expect(clashes).toEqual([]);
    expect(value).toEqual({
      title: 'Cuff',
      parts: [
        { id: 'shell', quantity: 1, print: { infill_percent: 40, up: '-x' } },
        { id: 'leaf', quantity: 3, at_mm: [0, 0, 1] },
        { id: 'pad', quantity: 2 },
      ],
      cautions: ['Check the skin.', 'Wash it.'],
    });
  });

  it('names a clash by its ids, and takes what is picked; vectors are one value', () => {
    const a = structuredClone(document);
    a.parts[1].at_mm = [1, 0, 1];
    const b = structuredClone(document);
    b.parts[1].at_mm = [0, 2, 1];
    const open = merged(document, a, b);
    expect(open.clashes).toEqual([{ key: 'parts/leaf/at_mm', base: [0, 0, 1], a: [1, 0, 1], b: [0, 2, 1] }]);
    expect(open.value).toEqual(document);
    expect(merged(document, a, b, 'b').value).toEqual(b);
  });

  it('clashes where one side takes out what the other changed', () => {
    const a = { ...document, parts: [document.parts[0]] };
    const b = structuredClone(document);
    b.parts[1].quantity = 5;
    expect(merged(document, a, b).clashes).toMatchObject([{ key: 'parts/leaf', a: undefined }]);
    expect(merged(document, a, b, 'a').value).toEqual(a);
    expect(merged(document, a, document).value).toEqual(a);
  });

  it('a key that a prototype has is a key like any other', () => {
    const hostile = JSON.parse('{"__proto__": {"x": 1}, "constructor": 2}') as unknown;
    const { value } = merged({}, hostile, { y: 1 });
    expect(JSON.stringify(value)).toBe('{"__proto__":{"x":1},"constructor":2,"y":1}');
    expect(({} as { x?: number }).x).toBeUndefined();
  });
});

it('any values: the same from an unchanged side, from equal sides, and with the sides changed over', () => {
  const leaf = fc.oneof(
    fc.integer({ min: 0, max: 3 }),
    fc.constantFrom('p', 'q'),
    fc.boolean(),
    fc.constant(null),
  );
  const { tree } = fc.letrec(tie => ({
    tree: fc.oneof(
      { depthSize: 'small', withCrossShrink: true },
      leaf,
      fc.dictionary(fc.constantFrom('x', 'y', 'z', 'id'), tie('tree'), { maxKeys: 4 }),
      fc.array(tie('tree'), { maxLength: 3 }),
      fc.uniqueArray(fc.record({ id: fc.constantFrom('i', 'j', 'k'), x: tie('tree') }), {
        selector: item => item.id,
        maxLength: 3,
      }),
    ),
  }));
  fc.assert(
    fc.property(tree, tree, tree, (base, a, b) => {
      expect(merged(base, a, base)).toEqual({ value: a, clashes: [] });
      expect(merged(base, base, b)).toEqual({ value: b, clashes: [] });
      expect(merged(base, a, a)).toEqual({ value: a, clashes: [] });
      const [there, back] = [merged(base, a, b), merged(base, b, a)];
      const keys = (clashes: readonly MergeClash[]) => clashes.map(clash => clash.key).sort();
      expect(keys(back.clashes)).toEqual(keys(there.clashes));
      if (there.clashes.length > 0) return;
      // Nobody's change is lost: what only one side has changed at the top is there.
      for (const side of [a, b])
        if (typeof side !== 'object' && JSON.stringify(side) !== JSON.stringify(base))
          expect(there.value).toEqual(side);
    }),
  );
});
