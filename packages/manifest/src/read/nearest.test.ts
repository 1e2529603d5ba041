import { describe, expect, it } from 'vitest';
import { nearest } from './nearest.ts';

const keys = ['license', 'authors', 'parts', 'mesh', 'cautions', 'layer_height_mm'];

describe('the nearest word', () => {
  it('is found over a wrong, missing, added or swapped sign, letter case and separators', () => {
    expect(nearest('licence', keys)).toBe('license');
    expect(nearest('lisence', keys)).toBe('license');
    expect(nearest('autors', keys)).toBe('authors');
    expect(nearest('prats', keys)).toBe('parts');
    expect(nearest('meshh', keys)).toBe('mesh');
    expect(nearest('Layer-Height mm', keys)).toBe('layer_height_mm');
  });

  it('is none where no word is near', () => {
    for (const word of ['', '---', 'weight', 'xy', 'x'.repeat(100)])
      expect(nearest(word, keys), word).toBeNull();
    expect(nearest('mesh', [])).toBeNull();
  });

  it('is the nearer one, and the first of two as near', () => {
    expect(nearest('parts', ['port', 'part'])).toBe('part');
    expect(nearest('bat', ['cat', 'hat'])).toBe('cat');
  });
});
