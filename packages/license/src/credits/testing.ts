import { descent, work } from '../audit/testing.ts';
import type { Works } from '../audit/works.ts';

export const sa = 'CC-BY-SA-4.0';
/** Three generations: `both` combines `rib` and `quick`, which both came from letters of `first`. */
export const family: Works = {
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
