import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { licenseProblem } from './license-problem.ts';

describe('license expressions', () => {
  it('pass when they are SPDX expressions of ids in use (SPDX 2.3, annex D)', () => {
    for (const good of [
      'MIT',
      'CC-BY-SA-4.0',
      'Apache-2.0+',
      'MIT OR CERN-OHL-P-2.0',
      '(MIT OR Apache-2.0) AND CC0-1.0',
      'GPL-2.0-only WITH Classpath-exception-2.0',
      'LicenseRef-group-rules',
      'DocumentRef-other:LicenseRef-1 OR MIT',
    ])
      expect(licenseProblem(good), good).toBeNull();
  });

  it('that are mistyped get a hint', () => {
    for (const [bad, hint] of [
      ['mit', 'MIT'],
      ['CC BY-SA 4.0', 'CC-BY-SA-4.0'],
      ['cc-by-sa-4.0', 'CC-BY-SA-4.0'],
      ['CC-BY-SA-4', 'CC-BY-SA-4.0'],
      ['Apache 2', 'Apache-2.0'],
      ['GPLv3', 'GPL-3.0-only or GPL-3.0-or-later'],
      ['MIT OR Apche-2.0', 'Apache-2.0'],
    ] as const) {
      expect(licenseProblem(bad), bad).toMatchObject({ code: 'license-unknown' });
      expect(licenseProblem(bad)?.text, bad).toContain(`Did you mean ${hint}?`);
    }
  });

  it('of ids out of use say what to write', () => {
    expect(licenseProblem('GPL-3.0')).toMatchObject({
      code: 'license-deprecated',
      remedy: 'Write GPL-3.0-only or GPL-3.0-or-later.',
    });
    expect(licenseProblem('MIT AND GPL-2.0+')).toMatchObject({
      code: 'license-deprecated',
      remedy: 'Write GPL-2.0-or-later.',
    });
  });

  it('that are malformed say where', () => {
    for (const [bad, remedy] of [
      ['', 'Write an SPDX id'],
      ['MIT AND', 'missing after AND'],
      ['OR MIT', 'missing before OR'],
      ['(MIT', 'Close each parenthesis'],
      ['MIT MIT', 'Join ids'],
      ['MIT or CC0-1.0', 'Write OR.'],
      ['()', 'Join ids'],
      ['Apache-2.0 +', ''],
    ] as const) {
      const problem = licenseProblem(bad);
      expect(problem, bad).not.toBeNull();
      expect(problem?.remedy, bad).toContain(remedy);
    }
    expect(licenseProblem('MIT WITH nothing')?.text).toContain("'nothing' is no license exception");
  });

  it('end in an answer whatever the text', () => {
    const word = fc.constantFrom(
      'MIT',
      'AND',
      'OR',
      'WITH',
      '(',
      ')',
      '+',
      'CC0-1.0',
      'mit',
      'LicenseRef-',
      ':',
      '__proto__',
      'constructor',
    );
    const text = fc.oneof(
      fc.string(),
      fc.array(word, { maxLength: 12 }).map(words => words.join(' ')),
    );
    fc.assert(
      fc.property(text, expression => {
        const problem = licenseProblem(expression);
        expect(
          problem === null ||
            (problem.text !== '' && problem.remedy !== '' && typeof problem.remedy === 'string'),
        ).toBe(true);
      }),
      { numRuns: 1000 },
    );
    for (const word of ['constructor', 'toString', 'MIT OR constructor'])
      expect(licenseProblem(word)?.text).not.toContain('mean');
    expect(licenseProblem('('.repeat(100_000))?.code).toBe('license-syntax');
  });
});
