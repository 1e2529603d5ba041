import type { Part } from './load.ts';
import type { Side } from '../review-page/part-data.ts';

/** How a part is shown. */
export type Mode = 'pair' | 'overlay' | 'material' | 'deviation';

export const modeNames: Readonly<Record<Mode, string>> = {
  pair: 'Side by side',
  overlay: 'Overlaid',
  material: 'Added and removed',
  deviation: 'Deviation',
};

/** What a pane of the picture shows. */
export type Scenery = Side | Exclude<Mode, 'pair'>;

export const sceneryNames: Readonly<Record<Scenery, string>> = {
  before: 'Before',
  after: 'After',
  overlay: 'After, and before see-through',
  material: 'What was added and removed',
  deviation: 'After, by its distance from before',
};

/** The modes that say something of a part. */
export function modesOf({ sides, regions, data }: Part): Mode[] {
  if (sides.size < 2 || data.apart) return ['pair'];
  return regions.length === 0
    ? ['pair', 'overlay', 'deviation']
    : ['pair', 'overlay', 'material', 'deviation'];
}

/** What a mode shows, from left to right. */
export function sceneriesOf(mode: Mode, sides: readonly Side[]): readonly Scenery[] {
  return mode === 'pair' ? sides : [mode];
}

/** The surfaces whose points can be picked in a scenery: the first one that is met counts. */
export function pickedSides(scenery: Scenery): readonly Side[] {
  switch (scenery) {
    case 'before':
      return ['before'];
    case 'overlay':
      return ['after', 'before'];
    case 'after':
    case 'material':
    case 'deviation':
      return ['after'];
  }
}
