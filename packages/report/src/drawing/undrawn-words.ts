import type { Undrawn } from './part-drawing.ts';

/** Said in the place of a picture. */
export function undrawnWords({ reason }: Undrawn): string {
  return `There is no picture: ${reason}.`;
}
