import { readFileSync } from 'node:fs';
import path from 'node:path';
import {
  clearanceHole,
  isoClearance,
  judgeClearance,
  limitDeviations,
  threadDiameter,
  threadDiameters,
  threadEngagement,
  type HoleClass,
  type IsoFit,
  type ShaftClass,
  type Sized,
} from '@kinprint/fit';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';

/** Collected public tables; `test/reference/fits/NOTICE.md` says what they are worth. */
const facts = (name: string): unknown =>
  parse(readFileSync(path.join(import.meta.dirname, '../reference/fits', name), 'utf8'));

const exact = (nominal_mm: number): Sized => ({ nominal_mm, plus_mm: 0, minus_mm: 0 });

describe('ISO 286-2, limits and clearances up to 30 mm', () => {
  const { rows, worked_examples } = facts('iso286-limits-and-fits.yaml') as {
    readonly rows: readonly {
      readonly over_mm: number;
      readonly up_to_mm: number;
      readonly limits_um: Readonly<Record<HoleClass | ShaftClass, readonly [number, number]>>;
      readonly clearance_um: Readonly<Record<IsoFit, readonly [number, number]>>;
      readonly IT_um: Readonly<Record<string, number>>;
    }[];
    readonly worked_examples: readonly { readonly id: string; readonly clearance_um?: readonly number[] }[];
  };

  test.each(rows)('over $over_mm up to and including $up_to_mm mm', row => {
    for (const nominal of [row.over_mm + 0.001, (row.over_mm + row.up_to_mm) / 2, row.up_to_mm]) {
      for (const [name, [lower, upper]] of Object.entries(row.limits_um)) {
        const limits = limitDeviations(nominal, name as HoleClass);
        expect(limits?.lower_mm).toBeCloseTo(lower / 1000, 9);
        expect(limits?.upper_mm).toBeCloseTo(upper / 1000, 9);
        // The width of a class is its grade.
        expect(upper - lower).toBe(row.IT_um[`IT${name.slice(1)}`]);
      }
      for (const [name, [least, most]] of Object.entries(row.clearance_um)) {
        const clearance = isoClearance(nominal, name as IsoFit);
        expect(clearance?.least_mm).toBeCloseTo(least / 1000, 9);
        expect(clearance?.most_mm).toBeCloseTo(most / 1000, 9);
      }
    }
  });

  test('the worked example of 6 mm, H7/g6', () => {
    const example = worked_examples.find(({ id }) => id === '6-H7-g6');
    const clearance = isoClearance(6, 'H7/g6');
    expect([clearance?.least_mm, clearance?.most_mm].map(mm => Math.round((mm ?? NaN) * 1000))).toEqual(
      example?.clearance_um,
    );
  });

  test('beyond the table nothing is said', () => {
    expect(limitDeviations(30.001, 'H7')).toBeNull();
    expect(limitDeviations(0, 'H7')).toBeNull();
    expect(isoClearance(31, 'H7/h6')).toBeNull();
  });

  test('a hole and a shaft at the limits of their classes are as asked, and one micrometer off is not', () => {
    const hole: Sized = { nominal_mm: 6, plus_mm: 0.012, minus_mm: 0 };
    const shaft: Sized = { nominal_mm: 6, plus_mm: -0.004, minus_mm: 0.012 };
    expect(judgeClearance(hole, shaft, 'H7/g6').verdict).toBe('interference');
    // Sizes as drawn: the middle of each tolerance.
    const drawn = (lower: number, upper: number): Sized => ({
      nominal_mm: 6 + (lower + upper) / 2,
      plus_mm: (upper - lower) / 2,
      minus_mm: (upper - lower) / 2,
    });
    const judged = judgeClearance(drawn(0, 0.012), drawn(-0.012, -0.004), 'H7/g6');
    expect(judged.verdict).toBe('as-asked');
    expect([judged.least_mm, judged.most_mm].map(mm => Math.round(mm * 1000))).toEqual([4, 24]);
    expect(judgeClearance(drawn(0, 0.013), drawn(-0.012, -0.004), 'H7/g6').verdict).toBe('looser');
    expect(judgeClearance(drawn(-0.001, 0.012), drawn(-0.012, -0.004), 'H7/g6').verdict).toBe('tighter');
  });
});

describe('ISO 273, clearance holes', () => {
  const { rows, derived_checks } = facts('clearance-holes.yaml') as {
    readonly rows: readonly (Readonly<Record<string, number>> & { readonly thread: string })[];
    readonly derived_checks: readonly { readonly id: string; readonly result_mm?: number }[];
  };

  test.each(rows)('$thread', row => {
    expect(threadDiameter(`${row.thread} × 16`)).toBe(row['nominal_mm']);
    const screw = exact(row['nominal_mm'] ?? NaN);
    for (const series of ['fine', 'medium', 'coarse'] as const) {
      const hole = row[`${series}_mm`] ?? NaN;
      expect(clearanceHole(screw.nominal_mm, series)).toBe(hole);
      expect(judgeClearance(exact(hole), screw, series).verdict).toBe('as-asked');
    }
    expect(judgeClearance(exact(row['fine_mm'] ?? NaN), screw, 'medium').verdict).toBe('tighter');
    expect(judgeClearance(exact(row['coarse_mm'] ?? NaN), screw, 'medium').verdict).toBe('looser');
  });

  test('an M3 hole of the medium series that was scaled along with its part', () => {
    const scaled = (id: string): Sized =>
      exact(derived_checks.find(check => check.id === id)?.result_mm ?? NaN);
    expect(judgeClearance(scaled('scaled-hole-no-longer-fits'), exact(3), 'medium').verdict).toBe(
      'interference',
    );
    expect(judgeClearance(scaled('scaled-hole-too-loose'), exact(3), 'coarse').verdict).toBe('looser');
  });
});

describe('ISO 724, threads cut or formed in a hole', () => {
  const { threads } = facts('threads-and-hardware.yaml') as {
    readonly threads: {
      readonly rows: readonly {
        readonly thread: string;
        readonly d_mm: number;
        readonly pitch_mm: number;
        readonly tap_drill_mm: number;
        readonly minor_D1_mm: number;
        readonly pitch_D2_mm: number;
      }[];
    };
  };

  test.each(threads.rows)('$thread', row => {
    const found = threadDiameters(row.d_mm);
    expect(found?.pitch_mm).toBe(row.pitch_mm);
    // The table is rounded to micrometers.
    expect(found?.minor_mm).toBeCloseTo(row.minor_D1_mm, 3);
    expect(found?.flank_mm).toBeCloseTo(row.pitch_D2_mm, 3);
    const judged = (hole: number) => judgeClearance(exact(hole), exact(row.d_mm), 'thread', true).verdict;
    expect([row.minor_D1_mm, row.tap_drill_mm, row.pitch_D2_mm - 0.001].map(judged)).toEqual(
      Array(3).fill('as-asked'),
    );
    expect([row.pitch_D2_mm + 0.001, row.d_mm, row.d_mm + 1].map(judged)).toEqual(Array(3).fill('looser'));
    expect(judged(row.d_mm / 2)).toBe('tighter');
    // 0.649519 / 1.082532 is 0.6, by both formulas of ISO 724.
    expect(threadEngagement(row.d_mm, row.pitch_D2_mm)).toBeCloseTo(0.6, 2);
    expect(threadEngagement(row.d_mm, row.minor_D1_mm)).toBeCloseTo(1, 2);
    expect(threadEngagement(row.d_mm, row.d_mm)).toBe(0);
  });

  test('the core of an M3 is 2.387 mm and of an M4 3.141 mm (DIN 13-1, from memory)', () => {
    expect(threadDiameters(3)?.core_mm).toBeCloseTo(2.387, 3);
    expect(threadDiameters(4)?.core_mm).toBeCloseTo(3.141, 3);
  });

  test('what has no metric thread only takes no hold where it is no wider than its hole', () => {
    const judged = (hole: number, metric: boolean, size = 4) =>
      judgeClearance(exact(hole), exact(size), 'thread', metric).verdict;
    expect([3.9, 4, 4.1].map(hole => judged(hole, false))).toEqual(['unknown', 'looser', 'looser']);
    // M3.5 is in no row of the table.
    expect([3, 3.5].map(hole => judged(hole, true, 3.5))).toEqual(['unknown', 'looser']);
    expect(threadDiameters(3.5)).toBeNull();
    expect(threadEngagement(3.5, 3)).toBeNull();
  });

  test('a wider hole never holds more of a thread', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...threads.rows.map(({ d_mm }) => d_mm)),
        fc.double({ min: 0.1, max: 12, noNaN: true }),
        fc.double({ min: 0, max: 3, noNaN: true }),
        (thread, hole, more) => {
          const [a, b] = [threadEngagement(thread, hole), threadEngagement(thread, hole + more)];
          expect(a).toBeGreaterThanOrEqual(b ?? NaN);
          expect(b).toBeGreaterThanOrEqual(0);
          expect(a).toBeLessThanOrEqual(1);
        },
      ),
    );
  });
});

describe('printed clearances', () => {
  const { classes, checks } = facts('printed-fits.yaml') as {
    readonly classes: readonly {
      readonly id: 'press';
      readonly gap_per_side_mm: readonly [number, number];
    }[];
    readonly checks: readonly {
      readonly id: string;
      readonly bore_d_mm: number;
      readonly pin_d_mm: number;
      readonly gap_per_side_mm: number;
    }[];
  };

  test.each(classes)('$id: twice the gap of each side', ({ id, gap_per_side_mm: [least, most] }) => {
    const asked = judgeClearance(exact(10), exact(9.5), id).asked;
    expect(asked).toMatchObject({ least_mm: 2 * least, most_mm: 2 * most });
  });

  test.each(checks)('$id', ({ id, bore_d_mm, pin_d_mm, gap_per_side_mm }) => {
    const judged = judgeClearance(exact(bore_d_mm), exact(pin_d_mm), 'sliding');
    expect(judged.nominal_mm).toBeCloseTo(2 * gap_per_side_mm, 9);
    const expected = { 'pin-in-bore': 'tighter', 'scaled-pair': 'looser', 'scaled-down': 'interference' };
    expect(judged.verdict).toBe(expected[id as keyof typeof expected]);
  });
});

test('a wider bore is never judged tighter', () => {
  const size = fc.double({ min: 0.5, max: 30, noNaN: true });
  const tolerance = fc.double({ min: 0, max: 0.3, noNaN: true });
  const sized = fc.record({ nominal_mm: size, plus_mm: tolerance, minus_mm: tolerance });
  const order = ['interference', 'tighter', 'as-asked', 'looser'];
  fc.assert(
    fc.property(
      sized,
      sized,
      fc.constantFrom('press', 'snug', 'sliding'),
      tolerance,
      (bore, pin, of, more) => {
        const wider = { ...bore, nominal_mm: bore.nominal_mm + more };
        const [a, b] = [judgeClearance(bore, pin, of), judgeClearance(wider, pin, of)];
        expect(order.indexOf(b.verdict)).toBeGreaterThanOrEqual(order.indexOf(a.verdict));
        expect(b.least_mm - a.least_mm).toBeCloseTo(more, 9);
      },
    ),
  );
});

test('sizes of anything at all end in a diameter or in none', () => {
  fc.assert(
    fc.property(
      fc.oneof(
        fc.string(),
        fc.string().map(text => `M${text}`),
      ),
      text => {
        const diameter = threadDiameter(text);
        expect(diameter === null || (Number.isFinite(diameter) && diameter > 0)).toBe(true);
      },
    ),
  );
  expect(['M3', 'M2.5x8', 'M10 × 20', 'M3-0.5'].map(threadDiameter)).toEqual([3, 2.5, 10, 3]);
  expect(['m3', '3 mm', 'M', 'M0', 'M3.123', '1.2.3', 'MM3'].map(threadDiameter)).toEqual(
    Array(7).fill(null),
  );
});
