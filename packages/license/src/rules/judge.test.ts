import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseExpression } from '../expression/parse.ts';
import type { Expression } from '../expression/tree.ts';
import { licenses } from './find-license.ts';
import { compareAnswers } from './grade.ts';
import { judgeAdaptation, judgeBlend, judgeCopy } from './judge.ts';
import type { Answer } from './types.ts';

const read = (text: string): Expression => {
  const parsed = parseExpression(text);
  if (!parsed.ok) throw new Error(text);
  return parsed.expression;
};
const id = fc.constantFrom(
  ...licenses.map(l => l.id),
  'GPL-2.0-or-later',
  'CC-BY-SA-3.0+',
  'LicenseRef-own',
  'MPL-2.0',
  'LicenseRef-NONE',
);
const judges = [judgeAdaptation, judgeCopy];
const better = (a: Answer, b: Answer): Answer => (compareAnswers(a, b) <= 0 ? a : b);

describe('expressions', () => {
  it('A OR B is as good as the better of them (property)', () => {
    fc.assert(
      fc.property(id, id, id, fc.constantFrom(...judges), (a, b, to, judge) => {
        const [x, y] = [judge(read(a), read(to)).answer, judge(read(b), read(to)).answer];
        expect(judge(read(`${a} OR ${b}`), read(to)).answer).toBe(better(x, y));
      }),
      { numRuns: 500 },
    );
  });

  it('A AND B is no better than either (property)', () => {
    fc.assert(
      fc.property(id, id, id, fc.constantFrom(...judges), (a, b, to, judge) => {
        const both = judge(read(`${a} AND ${b}`), read(to)).answer;
        for (const one of [a, b])
          expect(compareAnswers(both, judge(read(one), read(to)).answer)).toBeGreaterThanOrEqual(0);
      }),
      { numRuns: 500 },
    );
  });

  it('offering one license more never makes a newer label better (property)', () => {
    fc.assert(
      fc.property(id, id, id, fc.constantFrom(...judges), (from, to, more, judge) => {
        const offered = judge(read(from), read(`${to} OR ${more}`)).answer;
        expect(compareAnswers(offered, judge(read(from), read(to)).answer)).toBeGreaterThanOrEqual(0);
      }),
      { numRuns: 500 },
    );
  });

  it('blending is symmetric (property)', () => {
    fc.assert(
      fc.property(id, id, (a, b) => {
        const [x, y] = [read(a), read(b)];
        if (x.kind !== 'license' || y.kind !== 'license') throw new Error('one license each');
        expect(judgeBlend(x, y).answer).toBe(judgeBlend(y, x).answer);
      }),
      { numRuns: 500 },
    );
  });

  it('say which alternative was chosen', () => {
    expect(judgeAdaptation(read('CC-BY-SA-4.0 OR MIT'), read('CC-BY-NC-4.0'))).toMatchObject({
      answer: 'permitted',
      chosen: 'MIT',
      choice: true,
    });
    expect(judgeAdaptation(read('CC-BY-SA-4.0'), read('CC-BY-SA-4.0 OR MIT')).answer).toBe('not-permitted');
    expect(judgeAdaptation(read('CC-BY-SA-4.0'), read('CC-BY-SA-4.0 AND MIT')).answer).toBe('ask');
  });
});

describe('copies', () => {
  it.each([
    // Sources: CC 4.0 section 2(a)(5); LGPL-2.1 section 3.
    ['CC-BY-SA-4.0', 'CC-BY-4.0', 'not-permitted'],
    ['CC-BY-SA-3.0', 'CC-BY-SA-4.0', 'not-permitted'],
    ['CC-BY-ND-4.0', 'CC-BY-ND-4.0', 'permitted'],
    ['GPL-2.0-or-later', 'GPL-3.0-only', 'permitted'],
    ['GPL-3.0-only', 'GPL-3.0-or-later', 'not-permitted'],
    ['MIT OR CC-BY-4.0', 'CC-BY-4.0', 'permitted'],
    ['CC0-1.0', 'CC-BY-4.0', 'not-recommended'],
    ['LGPL-2.1-only', 'GPL-2.0-only', 'permitted'],
    ['LicenseRef-AllRightsReserved', 'MIT', 'not-permitted'],
    ['LicenseRef-own', 'LicenseRef-own', 'ask'],
  ] as const)('of %s under %s: %s', (from, to, answer) =>
    expect(judgeCopy(read(from), read(to)).answer).toBe(answer),
  );
});
