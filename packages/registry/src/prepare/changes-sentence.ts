import { shapeWords } from '../record/shape-words.ts';
import type { VariantReview } from '../review/types.ts';
import { prepareDefaults } from './defaults.ts';

/** What became of each part, as a text for a derivation; null where no part is other than it was. */
export function changesSentence({ parts }: Pick<VariantReview, 'parts'>): string | null {
  const words = parts.flatMap(part => {
    const shape = shapeWords(part);
    return shape === null ? [] : [`${part.id}: ${shape}`];
  });
  if (words.length === 0) return null;
  let sentence = '';
  for (const [k, word] of words.entries()) {
    const next = sentence === '' ? word : `${sentence}. ${word}`;
    const left = words.length - k;
    if ([...next].length > prepareDefaults.sentence && sentence !== '')
      return `${sentence}. And ${left} more ${left === 1 ? 'part' : 'parts'}.`;
    sentence = next;
  }
  return `${sentence}.`;
}
