import { compareLetters, nextLetter, parseLetter, type Letter, type RevisionEntry } from '@kinprint/manifest';
import { InputError } from '@kinprint/mesh';
import type { FirstRecording } from '../history/recordings.ts';

export interface LetterChoice {
  readonly letter: Letter;
  /** The same content under this letter, on another branch. */
  readonly shared: FirstRecording | null;
  /** Letters that were passed over, as other content has them. */
  readonly skipped: readonly FirstRecording[];
}

/**
 * The letter for a content that the variant's own log does not have: the next one that nobody gave to other content.
 * A content that another branch recorded under a later letter gets the same letter here.
 *
 * @param last the last of the own log; null where it is empty
 * @param elsewhere recordings that the own log lacks
 * @param wanted a letter that somebody asks for; it may leave letters out, but never goes back or is used again
 * @param file that errors name
 * @throws InputError `letter-bad`, `letter-order`, `letter-taken`, `content-recorded`, `letters-used-up`
 */
export function chooseLetter(
  last: RevisionEntry | null,
  digest: string,
  elsewhere: readonly FirstRecording[],
  wanted: string | null,
  file: string,
): LetterChoice {
  const before = last === null ? null : parseLetter(last.letter);
  const follows = (letter: Letter): boolean => before === null || compareLetters(letter, before) > 0;
  const taken = (letter: string): FirstRecording | undefined =>
    elsewhere.find(one => one.letter === letter && one.digest !== digest);
  const shared = elsewhere.find(one => {
    const letter = one.digest === digest ? parseLetter(one.letter) : null;
    return letter !== null && follows(letter) && taken(letter) === undefined;
  });
  if (wanted !== null) {
    const letter = wantedLetter(wanted, file);
    const other = taken(letter);
    if (!follows(letter))
      throw new InputError(
        'letter-order',
        `${letter} does not come after ${last?.letter ?? ''}, the last letter recorded.`,
        'Letters follow each other: choose a later one, or leave --letter out.',
        { file },
      );
    if (other !== undefined)
      throw new InputError(
        'letter-taken',
        `${letter} is recorded for other content in commit ${other.commit.slice(0, 12)}.`,
        'A letter means one content for good: choose another, or leave --letter out.',
        { file },
      );
    if (shared !== undefined && shared.letter !== letter)
      throw new InputError(
        'content-recorded',
        `This content is already recorded as ${shared.letter}, in commit ${shared.commit.slice(0, 12)}.`,
        `Record it as ${shared.letter}, or leave --letter out.`,
        { file },
      );
    return { letter, shared: shared ?? null, skipped: [] };
  }
  const skipped: FirstRecording[] = [];
  const sharedLetter = shared === undefined ? null : parseLetter(shared.letter);
  if (shared !== undefined && sharedLetter !== null) return { letter: sharedLetter, shared, skipped };
  let letter = nextLetter(before);
  for (; letter !== null; letter = nextLetter(letter)) {
    const other = taken(letter);
    if (other === undefined) return { letter, shared: null, skipped };
    skipped.push(other);
  }
  throw new InputError(
    'letters-used-up',
    'All letters are used.',
    'Derive a new variant with kinprint derive.',
    {
      file,
    },
  );
}

function wantedLetter(text: string, file: string): Letter {
  const letter = parseLetter(text);
  if (letter !== null) return letter;
  throw new InputError(
    'letter-bad',
    `'${text}' is no revision letter.`,
    'Letters are A … Y, then AA … YY, without I, O, Q, S, X and Z.',
    { file },
  );
}
