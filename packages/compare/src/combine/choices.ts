import { InputError } from '@kinprint/mesh';
import type { Take } from '@kinprint/solid';

/** What to take where changes are in conflict: for all conflicts, for single ones by number, or nothing yet. */
export interface Choices {
  readonly all: Take | null;
  readonly single: Readonly<Record<number, Take>>;
}

export const noChoices: Choices = { all: null, single: {} };

/**
 * One choice per conflict; null where none was made.
 *
 * @throws InputError `conflict-unknown` for a number that no conflict has
 */
export function chosenTakes({ all, single }: Choices, count: number): (Take | null)[] {
  const unknown = Object.keys(single).find(number => !(Number(number) >= 1 && Number(number) <= count));
  if (unknown !== undefined) {
    throw new InputError(
      'conflict-unknown',
      `There is no conflict ${unknown}.`,
      count === 0 ? 'There are none: leave --take out.' : `They are numbered from 1 to ${count}.`,
    );
  }
  return Array.from({ length: count }, (_, k) => single[k + 1] ?? all);
}
