import type { RevisionEntry } from '@kinprint/manifest';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { FirstRecording } from '../history/recordings.ts';
import { chooseLetter } from './choose-letter.ts';

const digestOf = (n: number) => `sha256:${String(n).padStart(64, '0')}`;
const entry = (letter: string, n: number): RevisionEntry => ({
  letter: letter,
  digest: digestOf(n),
  date: '2026-01-01',
});
const other = (letter: string, n: number): FirstRecording => ({
  letter,
  digest: digestOf(n),
  commit: String(n).repeat(40),
});
const choose = (
  last: string | null,
  content: number,
  elsewhere: readonly FirstRecording[],
  wanted: string | null = null,
) =>
  chooseLetter(last === null ? null : entry(last, 0), digestOf(content), elsewhere, wanted, 'variant.yaml');

describe('chooseLetter', () => {
  // The order of letters is ASME Y14.35 practice: no I, O, Q, S, X, Z; AA after Y.
  it.each<readonly [string | null, readonly FirstRecording[], string, readonly string[]]>([
    [null, [], 'A', []],
    ['H', [], 'J', []],
    ['Y', [], 'AA', []],
    ['A', [other('B', 2)], 'C', ['B']],
    ['A', [other('C', 3), other('B', 2)], 'D', ['B', 'C']],
    ['A', [other('D', 3)], 'B', []],
    ['B', [other('A', 3), other('B', 4)], 'C', []],
    ['A', [other('B', 2), other('B', 3)], 'C', ['B']],
  ])('after %s, beside %j: %s', (last, elsewhere, letter, skipped) => {
    const choice = choose(last, 1, elsewhere);
    expect([choice.letter, choice.skipped.map(one => one.letter), choice.shared]).toEqual([
      letter,
      skipped,
      null,
    ]);
  });

  it('gives content that another branch recorded the letter it has there', () => {
    expect(choose('A', 1, [other('B', 2), other('C', 1)])).toMatchObject({
      letter: 'C',
      shared: { letter: 'C' },
      skipped: [],
    });
    // Not where that letter means two contents, or where the log here is past it.
    expect(choose('A', 1, [other('B', 1), other('B', 2)])).toMatchObject({ letter: 'C', shared: null });
    expect(choose('C', 1, [other('B', 1)])).toMatchObject({ letter: 'D', shared: null });
  });

  it.each<readonly [string, string]>([
    ['C', 'C'],
    ['AA', 'AA'],
    ['A', 'letter-order'],
    ['B', 'letter-taken'],
    ['I', 'letter-bad'],
    ['c', 'letter-bad'],
    ['AAA', 'letter-bad'],
    ['', 'letter-bad'],
  ])('asked for %s after A, where B is taken: %s', (wanted, outcome) => {
    const made = (): string => choose('A', 1, [other('B', 2)], wanted).letter;
    if (/^[A-Z]+$/.test(outcome)) expect(made()).toBe(outcome);
    else expect(made).toThrow(expect.objectContaining({ code: outcome }) as Error);
  });

  it('refuses a second letter for content that another branch recorded', () => {
    expect(() => choose('A', 1, [other('C', 1)], 'D')).toThrow(
      expect.objectContaining({ code: 'content-recorded' }) as Error,
    );
    expect(choose('A', 1, [other('C', 1)], 'C').letter).toBe('C');
  });

  it('says when all are used', () => {
    expect(() => choose('YY', 1, [])).toThrow(expect.objectContaining({ code: 'letters-used-up' }) as Error);
  });

  it('never gives a letter that other content has, nor one that was passed', () => {
    const alphabet = [...'ABCDEFGHJKLMNPRTUVWY'];
    const letters = [...alphabet, ...alphabet.flatMap(a => alphabet.map(b => a + b))];
    const recording = fc.tuple(fc.nat(25), fc.nat(4)).map(([k, n]) => other(letters[k], n));
    fc.assert(
      fc.property(fc.option(fc.nat(24)), fc.array(recording, { maxLength: 30 }), (last, elsewhere) => {
        const { letter } = choose(last === null ? null : letters[last], 1, elsewhere);
        expect(letters.indexOf(letter)).toBeGreaterThan(last ?? -1);
        expect(elsewhere.some(one => one.letter === letter && one.digest !== digestOf(1))).toBe(false);
      }),
    );
  });
});
