import { shapeWords } from '../record/shape-words.ts';
import type { PartReview, VariantReview } from '../review/types.ts';
import { prepareDefaults } from './defaults.ts';

/** What became of each part, as a text for the only derivation; null where no part is other than it was. */
export function changesSentence({ parts }: Pick<VariantReview, 'parts'>): string | null {
  return sentence(wordsOf(parts));
}

/**
 * What came from one of several parents and what became of it, as a text for its derivation; null where no part was compared
 * with one of it.
 *
 * @param folder of the parent, from its registry's root
 */
export function changesFromParent({ parts }: Pick<VariantReview, 'parts'>, folder: string): string | null {
  const own = parts.filter(({ mesh }) => mesh.before?.path.startsWith(`${folder}/`) === true);
  const kept = own.filter(({ verdict }) => verdict === 'identical' || verdict === 'same-shape');
  const whole = kept.length === 0 ? [] : [`As in it: ${kept.map(({ id }) => id).join(', ')}`];
  return sentence([...whole, ...wordsOf(own.filter(part => !kept.includes(part)))]);
}

function wordsOf(parts: readonly PartReview[]): string[] {
  return parts.flatMap(part => {
    const shape = shapeWords(part);
    return shape === null ? [] : [`${part.id}: ${shape}`];
  });
}

function sentence(words: readonly string[]): string | null {
  if (words.length === 0) return null;
  let text = '';
  for (const [k, word] of words.entries()) {
    const next = text === '' ? word : `${text}. ${word}`;
    const left = words.length - k;
    if ([...next].length > prepareDefaults.sentence && text !== '')
      return `${text}. And ${left} more ${left === 1 ? 'part' : 'parts'}.`;
    text = next;
  }
  return `${text}.`;
}
