import type { PartReview } from '@kinprint/registry';
import { partsTold } from '../review/review-words.ts';

/** Whether a part is drawn: those of which something is told are. */
export function isDrawn(part: PartReview): boolean {
  return partsTold([part]).told.length > 0;
}
