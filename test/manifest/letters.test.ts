import { readFileSync } from 'node:fs';
import {
  compareLetters,
  letterAt,
  letterCount,
  letterIndex,
  nextLetter,
  parseLetter,
  type Letter,
} from '@kinprint/manifest';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';

// Sequence of ASME Y14.35 at second hand; see test/reference/manifest/NOTICE.md.
const reference = parse(
  readFileSync(new URL('../reference/manifest/revision-letters.yaml', import.meta.url), 'utf8'),
) as {
  readonly omitted: readonly string[];
  readonly alphabet: readonly string[];
  readonly vectors: {
    readonly index_from_zero: Readonly<Record<string, string>>;
    readonly next: Readonly<Record<string, string>>;
    readonly invalid: readonly string[];
    readonly count_one_letter: number;
    readonly count_two_letters: number;
  };
};
const known = (text: string): Letter => {
  const letter = parseLetter(text);
  if (letter === null) throw new Error(`${text} is no letter`);
  return letter;
};

describe('revision letters', () => {
  it('stand where the reference says', () => {
    const entries = Object.entries(reference.vectors.index_from_zero);
    expect(entries).toHaveLength(16);
    for (const [index, text] of entries) {
      expect(letterAt(Number(index))).toBe(text);
      expect(letterIndex(known(text))).toBe(Number(index));
    }
  });

  it('follow each other as the reference says', () => {
    for (const [text, next] of Object.entries(reference.vectors.next))
      expect(nextLetter(known(text)), text).toBe(next.startsWith('none') ? null : next);
    expect(nextLetter(null)).toBe('A');
  });

  it('are refused where the reference refuses them, and for every omitted sign', () => {
    for (const text of [...reference.vectors.invalid, ...reference.omitted, ' A', 'A ', 'Ä', 'A\n'])
      expect(parseLetter(text), JSON.stringify(text)).toBeNull();
  });

  it('are as many as the reference counts, each once, in a strict order', () => {
    expect(letterCount).toBe(reference.vectors.count_one_letter + reference.vectors.count_two_letters);
    const all = Array.from({ length: letterCount }, (_, index) => letterAt(index) as Letter);
    expect(new Set(all).size).toBe(letterCount);
    expect(all.every(letter => [...letter].every(sign => reference.alphabet.includes(sign)))).toBe(true);
    expect([...all].reverse().sort(compareLetters)).toEqual(all);
    expect([letterAt(-1), letterAt(letterCount), letterAt(0.5), letterAt(NaN)]).toEqual([
      null,
      null,
      null,
      null,
    ]);
  });

  it('are compared by place, not as text', () => {
    expect(compareLetters(known('B'), known('AA'))).toBeLessThan(0);
  });

  it('come out of any text only as themselves', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 3 }), text => {
        const letter = parseLetter(text);
        expect(letter === null || (letter === text && letterAt(letterIndex(letter)) === letter)).toBe(true);
      }),
    );
  });
});
