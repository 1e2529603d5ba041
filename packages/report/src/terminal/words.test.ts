import { describe, expect, it } from 'vitest';
import { clean, count, direction, num, plural, point, signed } from './words.ts';
import { columns, shorten, width, wrap } from './layout.ts';

describe('words', () => {
  it("makes a stranger's control characters visible", () => {
    expect(clean('a\u001b[2Jb\nc\u202ed')).toBe('a\\u{1b}[2Jb\\u{a}c\\u{202e}d');
  });

  it('never rounds a small difference away to nothing', () => {
    expect(num(0.0004)).toBe('0.00040');
    expect(num(0)).toBe('0');
    expect(num(-3.14159)).toBe('−3.14');
    expect(signed(2)).toBe('+2.00');
    expect(signed(0)).toBe('±0');
  });

  it('sets thousands apart and counts in words', () => {
    expect(count(1234567)).toBe('1\u202f234\u202f567');
    expect(plural(1, 'vertex', 'vertices')).toBe('1 vertex');
    expect(plural(2, 'vertex', 'vertices')).toBe('2 vertices');
  });

  it('names directions along an axis', () => {
    expect(direction([0, 0, -1])).toBe('−z');
    expect(direction([0.6, 0, 0.8])).toBe('(0.600, 0, 0.800)');
    expect(point([1, -0.001, 2.5], 1)).toBe('(1.0, 0, 2.5)');
  });
});

describe('layout', () => {
  it('counts what a terminal shows', () => {
    expect(width('\u001b[1mbold\u001b[22m')).toBe(4);
    expect(width('e\u0301')).toBe(1);
    expect(width('部品')).toBe(4);
  });

  it('wraps at blanks and shortens in the middle', () => {
    expect(wrap('one two three', 8)).toEqual(['one two', 'three']);
    const short = shorten('parts/left/shell-with-a-long-name.stl', 20);
    expect(width(short)).toBeLessThanOrEqual(20);
    expect(short).toContain('…');
    expect(short.endsWith('name.stl')).toBe(true);
  });

  it('cuts and shortens wide characters by the columns they take', () => {
    expect(wrap('部品部品部', 4)).toEqual(['部品', '部品', '部']);
    expect(shorten('部品'.repeat(20), 11)).toBe('部…品部品');
    expect(wrap('abcdefghij', 4)).toEqual(['abcd', 'efgh', 'ij']);
  });

  it('lines up columns', () => {
    expect(
      columns(
        [
          ['a', '1'],
          ['bcd', '22'],
        ],
        [1],
      ),
    ).toEqual(['a     1', 'bcd  22']);
  });
});
