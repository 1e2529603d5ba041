import type { ViewDirection } from './camera.ts';
import { fromBelow, squareOn, threeQuarter } from './directions.ts';

/** The directions that can be asked for, by one word each: `front-right`, `front-right-below`, `top`. */
export const viewWords: ReadonlyMap<string, ViewDirection> = new Map(
  [...threeQuarter, ...fromBelow, ...squareOn].map(direction => [
    direction.name.replace(', from above', '').replace(', from below', '-below').replace(' ', '-'),
    direction,
  ]),
);
