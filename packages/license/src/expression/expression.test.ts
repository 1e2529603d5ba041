import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { alternativesOf, mostAlternatives } from './alternatives.ts';
import { bounds, parseExpression } from './parse.ts';
import { expressionText, termText, termsOf, type Expression } from './tree.ts';

const read = (text: string): Expression => {
  const parsed = parseExpression(text);
  if (!parsed.ok) throw new Error(`${text}: ${parsed.fault}`);
  return parsed.expression;
};

const license: fc.Arbitrary<string> = fc.constantFrom(
  'MIT',
  'CC-BY-SA-4.0',
  'CC-BY-SA-3.0+',
  'GPL-2.0-only',
  'LicenseRef-own',
  'Apache-2.0 WITH SHL-2.1',
);
const expression: fc.Arbitrary<string> = fc.letrec<{ any: string }>(tie => ({
  any: fc.oneof(
    { depthSize: 'small', withCrossShrink: true },
    license,
    fc
      .tuple(tie('any'), fc.constantFrom('AND', 'OR'), tie('any'))
      .map(([a, op, b]) => `(${a}) ${op} ${b}`.replace(/\(([^()]* WITH [^()]*)\)/g, '$1')),
  ),
})).any;

describe('reading a license expression', () => {
  it('says what is wrong and where', () => {
    for (const [text, fault, word, at] of [
      ['', 'empty', '', 0],
      ['  ', 'empty', '', 2],
      ['MIT AND', 'operand-missing', '', 7],
      ['AND MIT', 'operand-missing', 'AND', 0],
      ['MIT ISC', 'operator-missing', 'ISC', 4],
      ['MIT or ISC', 'operator-case', 'or', 4],
      ['(MIT', 'parenthesis', '', 4],
      ['MIT)', 'parenthesis', ')', 3],
      ['()', 'operand-missing', ')', 1],
      ['MIT OR Nonesuch', 'unknown-license', 'Nonesuch', 7],
      ['MIT WITH MIT', 'unknown-exception', 'MIT', 9],
      ['MIT WITH', 'operand-missing', '', 8],
      ['MIT +', 'stray-sign', '+', 4],
      ['(MIT) WITH SHL-2.1', 'stray-sign', 'WITH', 6],
    ] as const)
      expect(parseExpression(text), text).toEqual({ ok: false, fault, word, at });
  });

  it('takes ids in any letter case, and tells those out of use', () => {
    expect(parseExpression('cc-by-sa-4.0')).toMatchObject({
      expression: { id: 'CC-BY-SA-4.0' },
      outOfUse: [],
    });
    expect(parseExpression('gpl-3.0 OR LGPL-2.1+')).toMatchObject({
      expression: { members: [{ id: 'GPL-3.0-only' }, { id: 'LGPL-2.1-or-later' }] },
      outOfUse: ['gpl-3.0', 'LGPL-2.1+'],
    });
    expect(parseExpression('GPL-3.0-only+')).toMatchObject({
      expression: { id: 'GPL-3.0-or-later', orLater: false },
    });
  });

  it('reads what it writes (property)', () => {
    fc.assert(
      fc.property(expression, text => {
        const tree = read(text);
        expect(read(expressionText(tree))).toEqual(tree);
      }),
    );
  });

  it('ends in an answer whatever the text, within its bounds (property)', () => {
    const word = fc.constantFrom(
      'MIT',
      'AND',
      'OR',
      'WITH',
      '(',
      ')',
      '+',
      'mit+',
      'SHL-2.1',
      '__proto__',
      'constructor',
      'LicenseRef-',
    );
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc.array(word, { maxLength: 14 }).map(w => w.join(' ')),
        ),
        text => {
          const parsed = parseExpression(text);
          if (parsed.ok) expect(termsOf(parsed.expression).length).toBeGreaterThan(0);
          else expect(parsed.at).toBeLessThanOrEqual(text.length);
        },
      ),
      { numRuns: 1000 },
    );
    expect(parseExpression('('.repeat(bounds.depth + 5))).toMatchObject({ fault: 'too-deep' });
    expect(parseExpression('M'.repeat(bounds.signs + 1))).toMatchObject({ fault: 'too-long' });
  });
});

describe('the alternatives of an expression', () => {
  const texts = (text: string): string[] | undefined =>
    alternativesOf(read(text))?.map(terms => terms.map(termText).join(' & '));

  it('are what a recipient may choose from', () => {
    expect(texts('MIT')).toEqual(['MIT']);
    expect(texts('(MIT OR ISC) AND CC0-1.0')).toEqual(['MIT & CC0-1.0', 'ISC & CC0-1.0']);
    expect(texts('MIT OR (ISC AND CC0-1.0) OR MIT')).toEqual(['MIT', 'ISC & CC0-1.0']);
    expect(texts('(MIT OR ISC) AND (ISC OR MIT)')).toEqual(['MIT & ISC', 'MIT', 'ISC']);
  });

  it('agree with the truth table of AND and OR (property)', () => {
    fc.assert(
      fc.property(expression, fc.uniqueArray(license), (text, granted) => {
        const tree = read(text);
        const holds = (e: Expression): boolean =>
          e.kind === 'license'
            ? granted.includes(termText(e))
            : e.kind === 'and'
              ? e.members.every(holds)
              : e.members.some(holds);
        const of = alternativesOf(tree);
        expect(of?.some(terms => terms.every(holds))).toBe(holds(tree));
      }),
    );
  });

  it('stay bounded', () => {
    const pairs = Array.from({ length: 27 }, (_, k) => `(LicenseRef-a${k} OR LicenseRef-b${k})`);
    expect(alternativesOf(read(pairs.slice(0, 6).join(' AND ')))).toHaveLength(mostAlternatives);
    expect(alternativesOf(read(pairs.join(' AND ')))).toBeNull();
  });
});
