import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { freePath } from './free-path.ts';

describe('freePath', () => {
  it.each<readonly [string, readonly string[], string]>([
    ['parts/a.stl', [], 'parts/a.stl'],
    ['parts/a.stl', ['parts/a.stl'], 'parts/a-2.stl'],
    ['parts/a.stl', ['parts/A.STL', 'parts/a-2.stl'], 'parts/a-3.stl'],
    ['parts/a.stl', ['parts/a.stl/inside.txt'], 'parts/a-2.stl'],
    ['parts/a', ['parts/a'], 'parts/a-2'],
    ['parts.d/a', ['parts.d/a'], 'parts.d/a-2'],
    ['parts/.a', ['parts/.a'], 'parts/.a-2'],
    ['parts/\u00e9.stl', ['parts/e\u0301.stl'], 'parts/\u00e9-2.stl'],
  ])('%s beside %j: %s', (path, taken, free) => {
    expect(freePath(path, taken)).toBe(free);
  });

  it('never gives two files one name', () => {
    const name = fc.stringMatching(/^[aAb](\.(stl|STL|obj))?$/);
    fc.assert(
      fc.property(fc.array(name, { maxLength: 12 }), names => {
        const given: string[] = [];
        for (const one of names) given.push(freePath(one, given));
        expect(new Set(given.map(one => one.toLowerCase())).size).toBe(names.length);
      }),
    );
  });
});
