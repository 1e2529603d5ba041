import { InputError } from '@kinprint/mesh';
import type { Take } from '@kinprint/solid';

/** What to take where changes are in conflict: for all conflicts, for single ones by number, or nothing yet. */
export interface Choices {
  readonly all: Take | null;
  /** By the conflict's number. */
  readonly single: Readonly<Record<string, Take>>;
}

export const noChoices: Choices = { all: null, single: {} };

/**
 * One choice per conflict; null where none was made.
 *
 * @throws InputError `conflict-unknown` for a number that no conflict has
 */
export function chosenTakes({ all, single }: Choices, count: number): (Take | null)[] {
  const known = Array.from({ length: count }, (_, k) => String(k + 1));
  const unknown = Object.keys(single).find(number => !known.includes(number));
  if (unknown !== undefined) {
    throw new InputError(
      'conflict-unknown',
      `There is no conflict '${unknown}'.`,
      count === 0 ? 'There are none: leave --take out.' : `They are numbered from 1 to ${count}.`,
    );
  }
  return known.map(number => (Object.hasOwn(single, number) ? single[number] : all));
}
