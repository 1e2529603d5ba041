import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { defaults } from '../defaults.ts';
import { documentKinds, type DocumentKind } from '../documents.ts';
import { canonicalJson } from '../digest/canonical-json.ts';
import { readDocument } from './read-document.ts';

/** Whatever the text, the answer has this form. */
function sound(kind: DocumentKind, text: string): void {
  const read = readDocument(kind, text, 'x.yaml');
  const { value, problems } = read;
  expect(value === null).toBe(problems.length > 0);
  expect(problems.length).toBeLessThanOrEqual(defaults.problems + 1);
  const lines = text.replace(/^\uFEFF/, '').split('\n');
  for (const problem of problems) {
    expect(problem.line).toBeGreaterThanOrEqual(1);
    expect(problem.line).toBeLessThanOrEqual(lines.length);
    expect(problem.column).toBeGreaterThanOrEqual(1);
    expect(problem.text.length + problem.remedy.length).toBeLessThan(2000);
    if (problem.source !== null) expect(lines[problem.line - 1]?.startsWith(problem.source)).toBe(true);
  }
  expect(read.place(['parts', 0]).line).toBeGreaterThanOrEqual(1);
  if (value !== null) expect(canonicalJson(value)).not.toBe('');
}

const each = (count: number, text: (i: number) => string): string =>
  Array.from({ length: count }, (_, i) => text(i)).join(', ');

const kinds = fc.constantFrom(...documentKinds);
/** Pieces that YAML gives a meaning to. */
const piece = fc.constantFrom(
  ...[
    '\n',
    '\r\n',
    ' ',
    '  ',
    '\t',
    '- ',
    ': ',
    ':',
    '? ',
    '[',
    ']',
    '{',
    '}',
    ', ',
    '"',
    "'",
    '|',
    '>',
    '|+\n',
    '#',
    ' # c\n',
  ],
  ...[
    '&a',
    '*a',
    '!',
    '!!str ',
    '!<x>',
    '%YAML 1.1\n',
    '---\n',
    '...\n',
    '<<: ',
    '\uFEFF',
    '\\',
    '~',
    '0x1F',
    '.inf',
    '.nan',
    '1e999',
  ],
  ...[
    'kinprint: variant/1\n',
    'title: T\n',
    'parts: []\n',
    'parts:\n',
    'id: a\n',
    'mesh: a.stl\n',
    '__proto__: ',
    'constructor: ',
    'é',
    '😂',
  ],
);

describe('any text at all', () => {
  it('ends in a result (random text)', () => {
    fc.assert(fc.property(kinds, fc.string({ unit: 'binary', maxLength: 200 }), sound), { numRuns: 300 });
  });

  it('ends in a result (pieces of YAML)', () => {
    fc.assert(
      fc.property(kinds, fc.array(piece, { maxLength: 40 }), (kind, pieces) => sound(kind, pieces.join(''))),
      { numRuns: 2000 },
    );
  });

  it('ends in a result (a good document with a few characters changed)', () => {
    const good =
      'kinprint: variant/1\ntitle: Cuff\nparts:\n  - id: shell\n    mesh: parts/shell.stl\n    print: { walls: 3, up: -x }\nrevisions:\n  - letter: A\n    date: 2026-03-14\n';
    const change = fc.record({ at: fc.nat(good.length), drop: fc.nat(5), put: piece });
    fc.assert(
      fc.property(fc.array(change, { minLength: 1, maxLength: 4 }), changes => {
        let text = good;
        for (const { at, drop, put } of changes) text = text.slice(0, at) + put + text.slice(at + drop);
        sound('variant', text);
      }),
      { numRuns: 1000 },
    );
  });
});

describe('bounds', () => {
  const head = 'kinprint: variant/1\ntitle: T\nparts: []\n';
  /** Texts made to cost much; each must be answered in seconds, with the bounds of `sound`. */
  const costly: readonly (readonly [name: string, text: string])[] = [
    [
      'aliases that double at each step',
      `${head}a0: &a0 [x, x]\n${Array.from({ length: 40 }, (_, i) => `a${i + 1}: &a${i + 1} [*a${i}, *a${i}]\n`).join('')}`,
    ],
    ['very many keys', `${head}${Array.from({ length: 20_000 }, (_, i) => `k${i}:\n`).join('')}`],
    ['one key over and over', `${head}${'k:\n'.repeat(20_000)}`],
    ['a long list of wrong entries', `${head}cautions:\n${'- 1\n'.repeat(40_000)}`],
    ['a long list of roles', `${head}authors:\n- name: A\n  roles: [${'x-a, '.repeat(40_000)}x-a]\n`],
    ['lists without end', '['.repeat(100_000)],
    ['groups without end', '{a: '.repeat(60_000)],
    ['list signs without end', '- '.repeat(100_000)],
    ['question marks without end', '? '.repeat(100_000)],
    ['anchors without end', '&a '.repeat(50_000)],
    ['a long line', `${head}summary: ${'x'.repeat(900_000)}\n`],
    ['a quote that never closes', `${head}summary: "${'x\n'.repeat(400_000)}`],
    ['blank lines', `${head}${'\n'.repeat(150_000)}`],
    ['a megabyte of anchors', '&a\n'.repeat(330_000)],
    ['a megabyte of brackets', ']'.repeat(990_000)],
    ['a megabyte of keys that are none', '|\n'.repeat(490_000)],
    ['bad escapes', `${head}summary: "${'\\q'.repeat(490_000)}"\n`],
    [
      'aliases of very many anchors',
      `${head}x: [${each(30_000, i => `&a${i} 1`)}]\ny: [${each(30_000, i => `*a${i}`)}]\n`,
    ],
    ['too much', `# ${'x'.repeat(2_000_000)}\n${head}`],
  ];
  it.each(costly)('%s', (_name, text) => {
    // Time of the processor: others may be busy with it.
    const begun = process.cpuUsage();
    sound('variant', text);
    const { user, system } = process.cpuUsage(begun);
    expect((user + system) / 1000).toBeLessThan(6_000);
  });

  it('of anchors and aliases tell so; what an alias means is what its anchor named last', () => {
    const many = `${head}cautions: [${each(600, i => `&a${i} x, *a${i}`)}]\n`;
    expect(readDocument('variant', many, 'x.yaml').problems.map(p => p.code)).toEqual(['yaml-alias']);
    const twice = readDocument('variant', `${head}cautions: [&a first, &a second, *a]\n`, 'x.yaml');
    expect(twice.value?.cautions).toEqual(['first', 'second', 'second']);
  });

  it('of an alias bomb tell so', () => {
    const [, text] = costly[0] ?? ['', ''];
    const read = readDocument('variant', text, 'x.yaml');
    expect(read.problems.map(p => p.code)).toEqual(['document-too-large']);
    expect(read.problems[0]?.text).toContain('aliases');
  });

  it('count bytes, not signs', () => {
    const umlauts = `# ${'ä'.repeat(defaults.documentBytes / 2)}\n${head}`;
    expect(readDocument('variant', umlauts, 'x.yaml').problems.map(p => p.code)).toEqual([
      'document-too-large',
    ]);
    const plain = `# ${'a'.repeat(defaults.documentBytes / 2)}\n${head}`;
    expect(readDocument('variant', plain, 'x.yaml').problems).toEqual([]);
  });
});
