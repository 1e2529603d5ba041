import { describe, expect, it } from 'vitest';
import { InputError, placeText } from './error.ts';

describe('InputError', () => {
  it('keeps code, place and remedy when it is placed in a file', () => {
    const error = new InputError('stl-truncated', '3 facets are missing', 'Export the file again.', {
      facet: 12,
    });
    const placed = error.inFile('shell.stl');
    expect(placed).toMatchObject({ code: 'stl-truncated', remedy: 'Export the file again.' });
    expect(placeText(placed.place)).toBe('shell.stl, facet 12');
  });

  it('writes places the way editors read them', () => {
    expect(placeText({ file: 'a.obj', line: 3, column: 7 })).toBe('a.obj:3:7');
    expect(placeText({ byte: 80 })).toBe('byte 80');
    expect(placeText({})).toBe('');
  });
});
