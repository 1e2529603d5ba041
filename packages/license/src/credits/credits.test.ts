import { describe, expect, it } from 'vitest';
import { descent, work } from '../audit/testing.ts';
import type { Works } from '../audit/works.ts';
import { credits } from './credits.ts';

const sa = 'CC-BY-SA-4.0';
/** Three generations: `both` combines `rib` and `quick`, which both came from letters of `first`. */
const family: Works = {
  works: [
    work('cuff/both@A', sa, ['Teo', 'Sanna'], { title: 'Cuff with both', url: 'https://example.org/both' }),
    work('cuff/rib@B', sa, ['Teo'], { title: 'Cuff with a rib' }),
    work('cuff/rib@A', sa, ['Teo', 'Old Hand'], { title: 'Cuff with a rib' }),
    work('cuff/quick@A', 'MIT OR CC-BY-SA-4.0', ['Sanna'], { title: 'Cuff with a quick strap' }),
    work('cuff/first@B', sa, ['Mira', 'Jonah'], { title: 'First cuff', withheld: ['Jonah'] }),
    work('cuff/pattern@A', 'CC0-1.0', ['Ines'], { title: 'Pattern' }),
  ],
  descents: [
    descent('cuff/both@A', 'cuff/rib@B', 'combination', { changes: 'Shell taken.' }),
    descent('cuff/both@A', 'cuff/quick@A', 'combination', { changes: 'Buckle taken.' }),
    descent('cuff/rib@B', 'cuff/rib@A', 'revision'),
    descent('cuff/rib@A', 'cuff/first@B', 'remix', { changes: 'A rib.' }),
    descent('cuff/quick@A', 'cuff/first@B', 'mirror', { changes: null }),
    descent('cuff/first@B', 'cuff/pattern@A', 'remix'),
  ],
};

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

  it('say what is not at hand', () => {
    const works: Works = {
      works: [work('a', sa, ['A']), work('far:x/y@A', null, [], { known: false })],
      descents: [descent('a', 'far:x/y@A', 'remix')],
    };
    expect(credits(works, 'a')).toMatchObject({ from: [], unknown: ['far:x/y@A'] });
  });
});
