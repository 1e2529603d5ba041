import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Lexer, parse } from 'yaml';
import { ManifestError } from '../fault.ts';
import { readDocument } from '../read/read-document.ts';
import { editDocument } from './edit-document.ts';
import { withEdit, type Edit } from './value-at.ts';

const manifest = `# yaml-language-server: $schema=../../../schemas/variant.schema.json
# The cuff for small hands.

kinprint: variant/1   # kind and version
title: 'Cuff, small'
summary: |
  Holds a spoon.
  # not a comment

parts:
- id: shell    # the outer one
  mesh: parts/shell.stl
  print: { walls: 3, infill_percent: 20 }   # as tried

  # the strap is soft
- id: strap
  mesh: parts/strap.stl
  source: [source/strap.scad]
  # end of the strap

# recorded:
revisions:
    - letter: A
      digest: sha256:${'0'.repeat(64)}
      date: 2026-03-14    # at the workshop
# the end
`;

const comments = (text: string): string[] =>
  [...new Lexer().lex(text)].filter(token => token.startsWith('#'));
const lines = (text: string): string[] => text.split('\n');

describe('editing a document', () => {
  it('appends a revision and leaves every other line alone', () => {
    const entry = {
      letter: 'B',
      digest: `sha256:${'1'.repeat(64)}`,
      date: '2026-04-01',
      changes: ['shell: reworked; bore 3.20 → 3.00 mm'],
    };
    const after = editDocument(manifest, [{ path: ['revisions', 1], value: entry }]);
    const added = lines(after).filter(line => !lines(manifest).includes(line));
    expect(added).toEqual([
      '    - letter: B',
      `      digest: sha256:${'1'.repeat(64)}`,
      '      date: 2026-04-01',
      '      changes:',
      '        - "shell: reworked; bore 3.20 → 3.00 mm"',
    ]);
    expect(lines(after).filter(line => !added.includes(line))).toEqual(lines(manifest));
    expect(readDocument('variant', after, 'v.yaml').value?.revisions?.[1]).toEqual(entry);
  });

  it('makes the first revision where there is none yet, or an empty list', () => {
    const entry = { letter: 'A', digest: `sha256:${'1'.repeat(64)}`, date: '2026-04-01' };
    const bare = 'kinprint: variant/1\ntitle: T # t\nparts: [] # none\n';
    const edits: Edit[] = [{ path: ['revisions', 0], value: entry }];
    const expected = `revisions:\n  - letter: A\n    digest: ${entry.digest}\n    date: 2026-04-01\n`;
    expect(editDocument(bare, edits)).toBe(bare + expected);
    expect(editDocument(`${bare}revisions: []\n`, edits)).toBe(bare + expected);
    expect(editDocument(`${bare}revisions:\n`, edits)).toBe(bare + expected);
    expect(editDocument(bare.trimEnd(), edits)).toBe(bare + expected);
  });

  it('changes a value in place, in its kind of quotes, its comment kept', () => {
    expect(editDocument(manifest, [{ path: ['title'], value: "It's new" }])).toBe(
      manifest.replace("'Cuff, small'", "'It''s new'"),
    );
    expect(editDocument(manifest, [{ path: ['parts', 0, 'print', 'walls'], value: 4 }])).toBe(
      manifest.replace('walls: 3', 'walls: 4'),
    );
    expect(editDocument(manifest, [{ path: ['parts', 0, 'mesh'], value: 'parts/a #1: x.stl' }])).toBe(
      manifest.replace('parts/shell.stl', '"parts/a #1: x.stl"'),
    );
  });

  it('removes keys and entries', () => {
    expect(editDocument(manifest, [{ path: ['parts', 0, 'print', 'walls'], value: undefined }])).toBe(
      manifest.replace('walls: 3, ', ''),
    );
    expect(editDocument(manifest, [{ path: ['title'], value: undefined }])).toBe(
      manifest.replace("title: 'Cuff, small'\n", ''),
    );
    const without = editDocument(manifest, [{ path: ['revisions', 0], value: undefined }]);
    expect((parse(without) as { revisions: unknown[] }).revisions).toEqual([]);
  });

  it('keeps Windows line ends and a byte-order mark', () => {
    const windows = `\uFEFF${manifest.replaceAll('\n', '\r\n')}`;
    const edits: Edit[] = [{ path: ['revisions', 1], value: { letter: 'B', changes: ['a', 'b'] } }];
    expect(editDocument(windows, edits)).toBe(
      `\uFEFF${editDocument(manifest, edits).replaceAll('\n', '\r\n')}`,
    );
  });

  it('writes the same thing twice where a value holds it twice: no anchors, no aliases', () => {
    const print = { walls: 3, supports: 'none' };
    const part = (id: string): object => ({ id, mesh: `parts/${id}.stl`, print });
    const blocks: Edit = { path: ['parts'], value: [part('a'), part('b')] };
    const brackets: Edit = { path: ['parts', 0, 'print', 'notes'], value: [print, print] };
    // A group as the root in brackets is nothing that a line can be put into: the document is written anew.
    for (const after of [
      editDocument(manifest, [blocks]),
      editDocument(manifest, [brackets]),
      editDocument('{ title: T }\n', [blocks]),
    ])
      expect(after).not.toMatch(/[&*]a\d/);
  });

  it('changes nothing where the value is that already', () => {
    expect(editDocument(manifest, [{ path: ['title'], value: 'Cuff, small' }])).toBe(manifest);
  });

  it('refuses places that are not there, text that is no YAML, and what an alias stands for', () => {
    const code = (text: string, edits: Edit[]): string => {
      try {
        editDocument(text, edits);
      } catch (error) {
        if (error instanceof ManifestError) return error.code;
        throw error;
      }
      return 'none';
    };
    expect(code(manifest, [{ path: ['revisions', 2], value: 1 }])).toBe('edit-no-such-place');
    expect(code(manifest, [{ path: ['title', 'x'], value: 1 }])).toBe('edit-no-such-place');
    expect(code(manifest, [{ path: ['license'], value: undefined }])).toBe('edit-no-such-place');
    expect(code('a: [', [{ path: ['a'], value: 1 }])).toBe('edit-unreadable');
    const shared = 'a: &x { walls: 1 }\nb: *x\n';
    expect(code(shared, [{ path: ['b', 'walls'], value: 2 }])).toBe('edit-no-such-place');
    expect(code(shared, [{ path: ['a', 'walls'], value: 2 }])).toBe('edit-no-such-place');
  });
});

/** Values as documents have them. */
const simple = fc.oneof(
  fc.string({ maxLength: 12 }),
  fc.constantFrom('yes', '12', '# x', 'a: b', '- c', '', ' x ', 'two\nlines\n', '| x', '2026-01-01', 'é 😂'),
  fc.integer(),
  fc.double({ noNaN: true, noDefaultInfinity: true }).map(number => number + 0),
  fc.boolean(),
);
const value = fc.oneof(
  { weight: 3, arbitrary: simple },
  fc.array(simple, { minLength: 1, maxLength: 3 }),
  fc.dictionary(fc.constantFrom('walls', 'notes', 'up'), simple, { minKeys: 1 }),
);
/** Places that an edit may name, whatever edits came before. */
const setting: fc.Arbitrary<Edit> = fc.record({
  path: fc.constantFrom(
    ...[
      ['title'],
      ['summary'],
      ['license'],
      ['cautions'],
      ['fit', 'base_mm'],
      ['revisions', 1],
      ['revisions', 0, 'by'],
    ],
    ...[
      ['parts', 0, 'id'],
      ['parts', 0, 'quantity'],
      ['parts', 1, 'mesh'],
      ['parts', 1, 'print', 'walls'],
      ['parts', 2],
    ],
  ),
  value,
});

describe('editing, whatever the values', () => {
  it('gives them back, keeps all comments, and the order of the other keys', () => {
    fc.assert(
      fc.property(fc.array(setting, { minLength: 1, maxLength: 4 }), edits => {
        let expected: unknown = parse(manifest);
        const possible = edits.filter(edit => {
          try {
            expected = withEdit(expected, edit);
            return true;
          } catch (error) {
            if (error instanceof ManifestError) return false;
            throw error;
          }
        });
        const after = editDocument(manifest, possible);
        // As text, so that the order of keys counts too.
        expect(JSON.stringify(parse(after))).toBe(JSON.stringify(expected));
        expect(comments(after)).toEqual(expect.arrayContaining(comments(manifest)));
      }),
      { numRuns: 600 },
    );
  });
});
