import type { PartReview, VariantReview } from '@kinprint/registry';
import { partChangeWords } from '../review/review-words.ts';

/** What the picture of a part shows, for who cannot see it. */
export function drawingWords({ address }: VariantReview, part: PartReview): string {
  const words = [part.verdict, partChangeWords(part)].filter(Boolean).join('; ');
  return `${address}/${part.id}: ${words}`;
}
