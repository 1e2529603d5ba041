import type { RevisionEntry } from '@kinprint/manifest';
import { InputError } from '@kinprint/mesh';
import type { RecordOptions } from './record.ts';

export interface JudgedDate {
  readonly date: string;
  /** A line for the log, where the date is out of order; null else. */
  readonly change: string | null;
  /** A note for who records; null where there is nothing to say. */
  readonly note: string | null;
}

/**
 * Letters follow each other in time. The day before the previous letter's is refused, unless it is said that an older
 * state is imported; a day that has begun nowhere on earth always is.
 *
 * Days are compared, not times. Where somebody further east recorded the previous letter on a day that has not begun
 * here, that day is taken.
 *
 * @throws InputError `date-future`, `date-order`
 */
export function judgeDate(
  { date, dateChosen = false, latestDate, anyDate = false }: RecordOptions,
  last: RevisionEntry | null,
): JudgedDate {
  if (latestDate !== undefined && date > latestDate)
    throw new InputError(
      'date-future',
      `${date} lies in the future.`,
      'Give the day on which the revision was made, and see that the clock here is right.',
    );
  if (last === null || date >= last.date) return { date, change: null, note: null };
  if (anyDate) {
    const change = `an older state, dated before ${last.letter} (${last.date}) and recorded after it`;
    return { date, change, note: null };
  }
  if (dateChosen)
    throw new InputError(
      'date-order',
      `${date} is before ${last.date}, the date of ${last.letter}.`,
      'Letters follow each other in time: give a later date. To import an older state after a newer one, add --any-date.',
    );
  if (latestDate !== undefined && last.date <= latestDate)
    return {
      date: last.date,
      change: null,
      note: `Dated ${last.date} as ${last.letter} is; here it is ${date}.`,
    };
  throw new InputError(
    'date-order',
    `${last.letter} is dated ${last.date}; here it is ${date}.`,
    `See that the clock here is right. Where the date of ${last.letter} is wrong, --any-date records all the same.`,
  );
}
