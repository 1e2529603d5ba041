import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { nameWords, plainName } from './name-words.ts';

const words = (path: string) => nameWords(path, 10);

describe('words of a path', () => {
  test.each([
    ['parts/shell-left.stl', 'left', false],
    ['Left/shell.stl', 'left', true],
    ['ShellRight.stl', 'right', false],
    ['shell_R.stl', 'right', false],
    ['shell_lh.stl', 'left', false],
    ['bright-copyright.stl', null, false],
    ['cleft.stl', null, false],
    ['cuff/shell.stl', null, false],
    ['Manschette_links.stl', 'left', false],
    ['rechts/Manschette.stl', 'right', true],
    ['coque-gauche.stl', 'left', false],
    ['coqueDroite.stl', 'right', false],
    ['mano izquierda/concha.stl', 'left', true],
    ['concha_derecha.stl', 'right', false],
    ['guscio_sinistra.stl', 'left', false],
    ['guscio-destro.stl', 'right', false],
    ['esquerda/casca.stl', 'left', true],
    ['casca_direita.stl', 'right', false],
    // Words within words are none.
    ['linksammlung.stl', null, false],
    ['maladroit.stl', null, false],
    ['hyperlinks.stl', null, false],
    // Said twice.
    ['Left/shell-left.stl', 'left', true],
  ] as const)('hand of %s: %s', (path, hand, inFolder) => {
    expect(words(path)).toMatchObject({ hand, handInFolder: inFolder });
  });

  test('a single letter is no word', () => {
    expect(words('bright-l.stl')).toMatchObject({ hand: 'left', handSpelled: false });
    expect(words('bright-left.stl')).toMatchObject({ hand: 'left', handSpelled: true });
  });

  test('links may be those of a chain, unless something else says it', () => {
    expect(words('chain-links.stl')).toMatchObject({ hand: 'left', handSpelled: false });
    expect(words('right/chain-links.stl')).toMatchObject({ hand: 'right', handSpelled: true });
    expect(words('kette-rechts.stl').handPattern).toBe(words('kette-links.stl').handPattern);
  });

  test('a left and a right file have one pattern', () => {
    expect(words('a/Shell-Left.stl').handPattern).toBe(words('a/shell-right.STL').handPattern);
    expect(words('left/shell.stl').handPattern).toBe(words('right/shell.3mf').handPattern);
    expect(words('left/shell_left.stl').handPattern).toBe(words('right/shell_right.stl').handPattern);
    expect(words('a/shell.stl').handPattern).toBeNull();
  });

  test.each([
    ['cuff_58.stl', [['58', 58, false]]],
    ['cuff 62mm.stl', [['62mm', 62, false]]],
    ['cuff-110%.stl', [['110%', 110, false]]],
    ['cuff-1.1x.stl', [['1.1x', 110, false]]],
    ['small/cuff.stl', [['small', -1, false]]],
    ['pad-2.stl', [['2', 2, true]]],
    ['pad-size-2.stl', [['2', 2, false]]],
    ['pad-012.stl', [['012', 12, true]]],
    ['bolt-m3.stl', []],
    ['shell_v2.stl', []],
  ] as const)('sizes of %s', (path, sizes) => {
    expect(words(path).sizes.map(size => [size.label, size.rank, size.ordinal])).toEqual(sizes);
  });

  test('sizes that differ have one pattern, per word', () => {
    expect(words('58/cuff_62.stl').sizes.map(size => [size.pattern, size.inFolder])).toEqual([
      ['#/cuff_62', true],
      ['58/cuff_#', false],
    ]);
  });

  test('a size that folder and file both say is one size', () => {
    for (const [small, large] of [
      ['small/cuff_small_left.stl', 'large/cuff_large_left.stl'],
      ['55mm/cuff-55mm.stl', '62mm/cuff-62mm.stl'],
      ['55mm/cuff-55.stl', '62mm/cuff-62.stl'],
    ]) {
      const [a, b] = [words(small).sizes, words(large).sizes];
      expect([a.length, b.length]).toEqual([1, 1]);
      expect(a[0].pattern).toBe(b[0].pattern);
      expect(a[0].inFolder).toBe(true);
    }
    expect(words('2/pad-2.stl').sizes).toHaveLength(2);
  });

  test.each([
    ['shell_v2.stl', 'shell'],
    ['a/shell-final.stl', 'a/shell'],
    ['shell_final_v3.stl', 'shell'],
    ['shell.stl', null],
    ['old/shell.stl', null],
  ])('versions of %s', (path, pattern) => {
    expect(words(path).versionPattern).toBe(pattern);
    if (pattern !== null) expect(plainName(`${pattern}.stl`)).toBe(pattern);
  });

  test('any text at all has words', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 80 }), text => {
        const found = words(text);
        expect(found.sizes.every(size => Number.isFinite(size.rank))).toBe(true);
      }),
    );
  });
});
