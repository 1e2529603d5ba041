import { describe, expect, it } from 'vitest';
import { descent, work } from '../audit/testing.ts';
import type { Works } from '../audit/works.ts';
import { credits } from './credits.ts';
import { family, sa } from './testing.ts';

describe('credits', () => {
  const data = credits(family, 'cuff/both@A');

  it('name every work of the lineage once, nearest first, with all that its license asks', () => {
    expect(data.from.map(({ id, generation, authors }) => [id, generation, authors])).toEqual([
      ['cuff/rib@B', 1, ['Teo', 'Old Hand']],
      ['cuff/quick@A', 1, ['Sanna']],
      ['cuff/first@B', 2, ['Mira']],
      ['cuff/pattern@A', 3, ['Ines']],
    ]);
    expect(data.from[1].licenses).toEqual([
      { name: 'MIT', url: 'https://spdx.org/licenses/MIT.html' },
      { name: sa, url: 'https://creativecommons.org/licenses/by-sa/4.0/' },
    ]);
    expect(data.from[2].changes).toEqual([
      { by: 'cuff/quick@A', relation: 'mirror', changes: null },
      { by: 'cuff/rib@A', relation: 'remix', changes: 'A rib.' },
    ]);
    expect(data.from.map(entry => entry.customary)).toEqual([[], [], [], ['Ines']]);
  });

  it('name the licenses of parts that have their own', () => {
    const parts = [
      { id: 'pad', license: 'CC0-1.0', authors: null },
      { id: 'shell', license: null, authors: null },
      { id: 'leaf', license: sa, authors: null },
    ];
    const told = (license: string | null) =>
      credits({ works: [work('a', license, ['A'], { parts })], descents: [] }, 'a').work.licenses.map(
        l => l.name,
      );
    expect(told(sa)).toEqual([sa, 'CC0-1.0']);
    expect(told(null)).toEqual(['CC0-1.0', sa]);
  });

  it('say what is not at hand', () => {
    const works: Works = {
      works: [work('a', sa, ['A']), work('far:x/y@A', null, [], { known: false })],
      descents: [descent('a', 'far:x/y@A', 'remix')],
    };
    expect(credits(works, 'a')).toMatchObject({ from: [], unknown: ['far:x/y@A'] });
  });
});
