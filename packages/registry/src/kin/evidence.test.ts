import { describe, expect, it } from 'vitest';
import { evidenceOf } from './evidence.ts';
import type { Kinship } from './verify-kin.ts';

const base: Kinship = {
  relation: 'moved',
  mirrored: false,
  scale: 1,
  other_facets: false,
  matched_query: 1,
  matched_candidate: 1,
  within_mm: 0.03,
  deviation: {
    max_mm: 0.0035,
    max_error_mm: 0.0005,
    mean_mm: 0,
    rms_mm: 0,
    p95_mm: 0,
    max_at_mm: [0, 0, 0],
    max_from: 'before',
  },
};

describe('evidenceOf', () => {
  it('states the bound of the deviation, not the largest distance that was met', () => {
    expect(evidenceOf(base)).toBe('same shape after moving; largest deviation 0.004 mm');
    expect(evidenceOf({ ...base, relation: 'rescaled', scale: 1.12, mirrored: true })).toBe(
      'same shape after scaling by 1.12 and mirroring; largest deviation 0.004 mm',
    );
    expect(evidenceOf({ ...base, relation: 'same-shape' })).toBe(
      'same shape, where it stands; largest deviation 0.004 mm',
    );
  });

  it('tells shares of a rework, rounded down', () => {
    const reworked: Kinship = {
      ...base,
      relation: 'reworked',
      matched_query: 0.9999,
      matched_candidate: 0.5,
    };
    expect(evidenceOf({ ...reworked, deviation: { ...base.deviation, max_mm: 2 } })).toMatch(
      /^99 % of its surface and 50 % .* largest deviation 2\.00 mm$/,
    );
  });

  it('tells other facets from a rework', () => {
    const facets: Kinship = { ...base, relation: 'rescaled', scale: 1.1, other_facets: true };
    expect(evidenceOf({ ...facets, deviation: { ...base.deviation, max_mm: 0.047 } })).toBe(
      'same shape in other facets after scaling by 1.1; largest deviation 0.048 mm, which chords explain',
    );
  });
});
