import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readDocument, type VariantDocument } from '@kinprint/manifest';
import '../../../../test/support/property-seed.ts';
import { editInPlace, placeLines, withLines } from './place-lines.ts';

const text = `kinprint: variant/1
# The title.
title: Cuff

# What it is made of.
parts:
  - id: shell
    mesh: parts/shell.stl
  - { id: leaf, mesh: parts/leaf.stl }
# The end.
`;

const read = (t: string): VariantDocument | null => readDocument('variant', t, 'variant.yaml').value;

describe('placeLines', () => {
  it('puts a key of the whole where people look for it, above what is said of the next one', () => {
    const placed = placeLines(text, [{ path: ['license'], value: 'CC0-1.0' }]);
    expect(placed).toEqual({ line: 4, replaces: 0, lines: ['license: CC0-1.0'] });
  });

  it('puts a list of numbers on one line', () => {
    const value = [{ id: 'pivot', kind: 'bore', nominal_mm: 3.2, at_mm: [1, -2.5, 0], axis: [0, 0, 1] }];
    const placed = placeLines(text, [{ path: ['parts', 0, 'interfaces'], value }]);
    expect(placed).toMatchObject({ line: 9, replaces: 0 });
    expect(placed?.lines).toContain('        at_mm: [1, -2.5, 0]');
    expect(read(withLines(text, placed!))?.parts[0].interfaces).toEqual(value);
  });

  it('gives the whole line where what it belongs to stands in brackets', () => {
    const placed = placeLines(text, [{ path: ['parts', 1, 'material'], value: 'petg' }]);
    expect(placed).toMatchObject({ line: 9, replaces: 1 });
    expect(read(withLines(text, placed!))?.parts[1]).toEqual({
      id: 'leaf',
      mesh: 'parts/leaf.stl',
      material: 'petg',
    });
  });

  it('keeps the line ends of the file', () => {
    const windows = text.replaceAll('\n', '\r\n');
    const placed = placeLines(windows, [{ path: ['summary'], value: 'A cuff.' }]);
    const put = withLines(windows, placed!);
    expect(put.replaceAll('\r\n', '')).not.toContain('\n');
    expect(read(put)?.summary).toBe('A cuff.');
  });

  it('writes one edit after the other where each is offered, and keeps what is remarked', () => {
    const license = [{ path: ['license'], value: 'CC0-1.0' }];
    const authors = [{ path: ['authors'], value: [{ name: 'Robin Sample' }] }];
    const put = '\nlicense: CC0-1.0\nauthors:\n  - name: Robin Sample\n\n# What it is made of.';
    expect(editInPlace(editInPlace(text, license), authors)).toBe(
      text.replace('\n\n# What it is made of.', put),
    );
  });

  it('is nothing where the text cannot be edited', () => {
    expect(placeLines('a: [', [{ path: ['license'], value: 'CC0-1.0' }])).toBeNull();
    expect(() => editInPlace('a: [', [{ path: ['license'], value: 'CC0-1.0' }])).toThrow();
  });

  it('puts in any text as that text, and takes away nothing', () => {
    const words = fc.string({ unit: 'grapheme', minLength: 1, maxLength: 60 });
    let put = 0;
    fc.assert(
      fc.property(words, words, (summary, changes) => {
        const edits = [
          { path: ['summary'], value: summary },
          { path: ['derivations'], value: [{ from: 'cuff/left@A', relation: 'remix', changes }] },
        ];
        for (const edit of edits) {
          const placed = placeLines(text, [edit]);
          if (placed === null) continue; // a text that the schema refuses
          put++;
          const value = read(withLines(text, placed));
          expect(value).toEqual({ ...read(text), [edit.path[0]]: edit.value });
          for (const line of text.split('\n')) expect(withLines(text, placed).split('\n')).toContain(line);
        }
      }),
      { numRuns: 200 },
    );
    expect(put).toBeGreaterThan(200);
  });
});
