import type { RevisionEntry } from '@kinprint/manifest';
import { describe, expect, it } from 'vitest';
import { judgeDate } from './judge-date.ts';
import type { RecordOptions } from './record.ts';

const last: RevisionEntry = {
  letter: 'B',
  digest: `sha256:${'0'.repeat(64)}`,
  date: '2026-03-14',
};
const judge = (options: RecordOptions, before: RevisionEntry | null = last) =>
  judgeDate({ latestDate: '2026-04-02', ...options }, before);

describe('judgeDate', () => {
  it.each<readonly [RecordOptions, string]>([
    [{ date: '2026-03-14', dateChosen: true }, '2026-03-14'],
    [{ date: '2026-04-02', dateChosen: true }, '2026-04-02'],
    [{ date: '2026-04-03', dateChosen: true }, 'date-future'],
    [{ date: '2026-04-03', dateChosen: true, anyDate: true }, 'date-future'],
    [{ date: '2026-03-13', dateChosen: true }, 'date-order'],
    [{ date: '2019-03-13', dateChosen: true, anyDate: true }, '2019-03-13'],
    // The calendar here is behind: by less than a day it is the time zone, by more the clock.
    [{ date: '2026-03-13', latestDate: '2026-03-14' }, '2026-03-14'],
    [{ date: '2026-03-12', latestDate: '2026-03-13' }, 'date-order'],
  ])('%j after B of 2026-03-14: %s', (options, outcome) => {
    if (/^\d/.test(outcome)) expect(judge(options).date).toBe(outcome);
    else expect(() => judge(options)).toThrow(expect.objectContaining({ code: outcome }) as Error);
  });

  it('writes into the log what is out of order, and tells of a day that was moved', () => {
    expect(judge({ date: '2019-01-01', dateChosen: true, anyDate: true })).toMatchObject({
      change: 'an older state, dated before B (2026-03-14) and recorded after it',
      note: null,
    });
    expect(judge({ date: '2026-03-13', latestDate: '2026-03-14' })).toMatchObject({
      change: null,
      note: 'Dated 2026-03-14 as B is; here it is 2026-03-13.',
    });
    expect(judge({ date: '2019-01-01', dateChosen: true }, null)).toEqual({
      date: '2019-01-01',
      change: null,
      note: null,
    });
  });
});
