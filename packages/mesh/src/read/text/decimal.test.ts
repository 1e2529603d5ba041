import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseDecimal, parseInteger } from './decimal.ts';

const parse = (text: string) => parseDecimal(new TextEncoder().encode(text), 0, text.length);
const grammar = /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/;

describe('parseDecimal', () => {
  it('rounds every double as the engine does, in any notation (property)', () => {
    fc.assert(
      fc.property(
        fc.double({ noNaN: true, noDefaultInfinity: true }),
        fc.integer({ min: 0, max: 25 }),
        (x, digits) => {
          for (const text of [String(x), x.toExponential(digits), x.toPrecision(digits + 1)]) {
            expect(parse(text)).toBe(Number(text));
          }
        },
      ),
    );
  });

  it('accepts exactly what the grammar accepts (property)', () => {
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom(...'0159+-.eE,x n'), maxLength: 9 }), text => {
        const value = parse(text);
        if (grammar.test(text)) expect(value).toBe(Number(text));
        else expect(value).toBeNaN();
      }),
      { numRuns: 2000 },
    );
  });

  it('takes the ways of writing that are met in files', () => {
    expect(['.5', '1.', '1e-3', '+2', '-0', '1.23456E+789', '007'].map(parse)).toEqual([
      0.5,
      1,
      0.001,
      2,
      -0,
      Infinity,
      7,
    ]);
    expect(['1,5', '0x10', '', '.', '-', 'e5', '1e', '1e+', 'nan', '1.5.2'].map(parse)).toEqual(
      Array(10).fill(NaN),
    );
  });

  it('keeps within the bounds given', () => {
    const bytes = new TextEncoder().encode('12345e2');
    expect(parseDecimal(bytes, 1, 3)).toBe(23);
    expect(parseDecimal(bytes, 0, 6)).toBeNaN();
  });
});

describe('parseInteger', () => {
  it('reads whole numbers only', () => {
    const integer = (text: string) => parseInteger(new TextEncoder().encode(text), 0, text.length);
    expect(['0', '-12', '+7', '123456789012345'].map(integer)).toEqual([0, -12, 7, 123456789012345]);
    expect(['', '-', '1.0', '1e3', '1234567890123456', 'a'].map(integer)).toEqual(Array(6).fill(NaN));
  });
});
