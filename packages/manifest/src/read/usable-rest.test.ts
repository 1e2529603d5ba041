import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readDocument } from './read-document.ts';
import { usableRest } from './usable-rest.ts';
import { isDocument } from './validate.ts';

const good = `kinprint: variant/1
title: Cuff
license: CC0-1.0
parts:
  - id: shell
    mesh: parts/shell.stl
    interfaces:
      - {id: pivot, kind: bore, nominal_mm: 3}
  - id: strap
    mesh: parts/strap.stl
assembly:
  - part: shell
`;

describe('usableRest', () => {
  it('of a document without mistakes is the document', () => {
    const rest = usableRest('variant', good);
    expect(rest?.value).toEqual(readDocument('variant', good, 'variant.yaml').value);
    expect(rest?.lost).toEqual([]);
  });

  it('leaves out what the schema objects to, and knows where the rest stands', () => {
    const text = good
      .replace('title: Cuff', 'title: 5\nlicence: MIT')
      .replace('    mesh: parts/shell.stl', '    mesh: /etc/passwd')
      .replace('  - id: strap', '  - id: strap\n    quantity: many');
    const rest = usableRest('variant', text);
    expect(rest?.value).toEqual({
      kinprint: 'variant/1',
      title: 'untitled',
      license: 'CC0-1.0',
      parts: [{ id: 'strap', mesh: 'parts/strap.stl' }],
      assembly: [{ part: 'shell' }],
    });
    expect(new Set(rest?.lost.map(path => path.join('/')))).toEqual(
      new Set(['title', 'licence', 'parts/0/mesh', 'parts/0', 'parts/1/quantity']),
    );
    expect(rest?.original(['parts', 0, 'mesh'])).toEqual(['parts', 1, 'mesh']);
    expect(rest?.original(['assembly', 0, 'part'])).toEqual(['assembly', 0, 'part']);
  });

  it.each(['', 'kinprint: device/1\n', 'kinprint: variant/2\n', '[', 'kinprint: signoff/1\n', '- 1\n'])(
    'of %j nothing',
    text => {
      expect(usableRest('variant', text)).toBeNull();
    },
  );

  it('takes one place of a shared value out, and not the other', () => {
    const text = `kinprint: variant/1\ntitle: Cuff\nparts:\n  - &a {id: shell, mesh: parts/a.stl}\n  - id: strap\n    mesh: parts/b.stl\n    print: *a\n`;
    expect(usableRest('variant', text)?.value.parts).toEqual([
      { id: 'shell', mesh: 'parts/a.stl' },
      { id: 'strap', mesh: 'parts/b.stl', print: {} },
    ]);
  });

  it('of any text is nothing, or a document whose every value stands in the text', () => {
    const lines = good.split('\n');
    const odd = fc.constantFrom(
      '  x: 1',
      'parts: 3',
      '    id: [1]',
      '    mesh: ..',
      'title:',
      '  - {}',
      '- 1',
      '',
    );
    const edits = fc.array(fc.tuple(fc.nat(lines.length - 1), odd), { maxLength: 6 });
    fc.assert(
      fc.property(edits, changes => {
        const made = [...lines];
        for (const [k, line] of changes) made[k] = line;
        const text = made.join('\n');
        const rest = usableRest('variant', text);
        if (rest === null) return;
        expect(isDocument('variant', rest.value)).toBe(true);
        const places = rest.value.parts.map((_, k) => rest.original(['parts', k])[1] as number);
        // In the order of the document, each from a place of its own.
        expect(places).toEqual([...new Set(places)].sort((a, b) => a - b));
        for (const part of rest.value.parts) expect(text).toContain(part.mesh);
      }),
    );
  });
});
