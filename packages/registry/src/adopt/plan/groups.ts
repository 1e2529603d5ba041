import { adoptDefaults } from '../adopt-defaults.ts';
import type { Analysis, FoundPart } from '../judge/analyze.ts';
import { nameWords, type Hand, type NameWords } from '../judge/name-words.ts';
import { sizeNamed } from '../judge/sizes.ts';
import { idGiver, idOf } from './names.ts';

/** What becomes one variant. */
export interface Group {
  readonly id: string;
  readonly size: string | null;
  readonly hand: Hand | null;
  /** Whether a part belongs to it. */
  holds(part: FoundPart): boolean;
  /** Whether a file that is no mesh belongs to it. */
  holdsFile(path: string): boolean;
}

/**
 * Which variants there are: one for each size that was found, and one for each hand where the hands lie in folders
 * of their own and are mirror images; else a single one. What names no size, or no hand, belongs to all of them.
 *
 * @param oneVariant make a single one, whatever was found
 */
export function groupsOf(analysis: Analysis, oneVariant: boolean): Group[] {
  const sizes = oneVariant || analysis.sizes.labels.length < 2 ? [null] : analysis.sizes.labels;
  const hands: readonly (Hand | null)[] =
    !oneVariant && handsInFolders(analysis) ? ['left', 'right'] : [null];
  const give = idGiver();
  return sizes
    .flatMap(size => hands.map(hand => ({ size, hand })))
    .map(({ size, hand }) => {
      const inHand = (words: NameWords): boolean =>
        hand === null || !words.handInFolder || words.hand === null || words.hand === hand;
      return {
        id: give(
          [
            [size, hand]
              .filter(word => word !== null)
              .map(idOf)
              .join('-') || 'standard',
          ],
          'standard',
        ),
        size,
        hand,
        holds: part => {
          const own = part.present
            ? (analysis.sizes.of.get(part.key) ?? null)
            : sizeNamed(part.words.sizes, analysis.sizes.labels);
          return (size === null || own === null || own === size) && inHand(part.words);
        },
        holdsFile: path => {
          const words = nameWords(path, adoptDefaults.smallestSizeNumber);
          const own = size === null ? null : sizeNamed(words.sizes, analysis.sizes.labels);
          return (own === null || own === size) && inHand(words);
        },
      };
    });
}

/** Every part for one hand lies in a folder named for it, and mirror images lie across. */
function handsInFolders({ parts }: Analysis): boolean {
  const present = parts.filter(part => part.present);
  const handed = present.filter(part => part.hand.hand === 'left' || part.hand.hand === 'right');
  return (
    handed.length > 0 &&
    handed.every(part => part.words.handInFolder && part.words.hand === part.hand.hand) &&
    handed.some(part =>
      present.some(other => other.key === part.hand.twin && other.hand.hand !== part.hand.hand),
    )
  );
}
