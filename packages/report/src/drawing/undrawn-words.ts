import { plural } from '../terminal/words.ts';
import type { ReviewDrawings } from './draw-review.ts';
import type { Undrawn } from './part-drawing.ts';

/** Said in the place of a picture. */
export function undrawnWords({ reason }: Undrawn): string {
  return `There is no picture: ${reason}.`;
}

/** The same of all parts of a review, in a line; null where every one has its picture. */
export function undrawnLine({ undrawn }: Pick<ReviewDrawings, 'undrawn'>): string | null {
  if (undrawn.length === 0) return null;
  const [{ name, why }] = undrawn;
  const more = undrawn.length === 1 ? '' : ` and ${undrawn.length - 1} more`;
  return `There is no picture of ${plural(undrawn.length, 'part')}: ${name} (${why.reason})${more}.`;
}
