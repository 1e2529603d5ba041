import type { ViewDirection } from './camera.ts';

/**
 * The directions a part is looked at from. Front is −y, as on the plate of a printer seen from where one stands; the
 * names are those of the views of technical drawings, the axes our own choice.
 *
 * Three-quarter views look down at 30° or so and a little more on the front than on the side: no edge of a box then
 * coincides with another, as they do in an isometric view.
 */
export const threeQuarter = [
  { name: 'front right, from above', toward: [4, -6, 4] },
  { name: 'front left, from above', toward: [-4, -6, 4] },
  { name: 'back right, from above', toward: [4, 6, 4] },
  { name: 'back left, from above', toward: [-4, 6, 4] },
] as const satisfies readonly ViewDirection[];

export const fromBelow = [
  { name: 'front right, from below', toward: [4, -6, -4] },
  { name: 'front left, from below', toward: [-4, -6, -4] },
  { name: 'back right, from below', toward: [4, 6, -4] },
  { name: 'back left, from below', toward: [-4, 6, -4] },
] as const satisfies readonly ViewDirection[];

export const squareOn = [
  { name: 'front', toward: [0, -1, 0] },
  { name: 'back', toward: [0, 1, 0] },
  { name: 'right', toward: [1, 0, 0] },
  { name: 'left', toward: [-1, 0, 0] },
  { name: 'top', toward: [0, 0, 1] },
  { name: 'bottom', toward: [0, 0, -1] },
] as const satisfies readonly ViewDirection[];

export const edgeOn = [
  { name: 'front, from above', toward: [0, -1, 1] },
  { name: 'back, from above', toward: [0, 1, 1] },
  { name: 'right, from above', toward: [1, 0, 1] },
  { name: 'left, from above', toward: [-1, 0, 1] },
  { name: 'front right', toward: [1, -1, 0] },
  { name: 'front left', toward: [-1, -1, 0] },
  { name: 'back right', toward: [1, 1, 0] },
  { name: 'back left', toward: [-1, 1, 0] },
  { name: 'front, from below', toward: [0, -1, -1] },
  { name: 'back, from below', toward: [0, 1, -1] },
  { name: 'right, from below', toward: [1, 0, -1] },
  { name: 'left, from below', toward: [-1, 0, -1] },
] as const satisfies readonly ViewDirection[];

/** All of them, in the order in which they are preferred among equals. */
export const directions: readonly ViewDirection[] = [...squareOn, ...threeQuarter, ...edgeOn, ...fromBelow];
