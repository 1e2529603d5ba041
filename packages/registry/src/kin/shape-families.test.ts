import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shapeFamilies } from './shape-families.ts';
import type { Kinship } from './verify-kin.ts';

const deviation: Kinship['deviation'] = {
  max_mm: 0,
  max_error_mm: 0,
  mean_mm: 0,
  rms_mm: 0,
  p95_mm: 0,
  max_at_mm: [0, 0, 0],
  max_from: 'before',
};

/** Shapes that are made of a form, a size and a hand: of one form they are the same, of neighboring ones reworked. */
interface Shape {
  readonly form: number;
  readonly size: number;
  readonly left: boolean;
}

function truth(query: Shape, candidate: Shape): Kinship | null {
  const apart = Math.abs(query.form - candidate.form);
  if (apart > 1) return null;
  const scale = candidate.size / query.size;
  const mirrored = query.left !== candidate.left;
  const same = scale !== 1 ? 'rescaled' : mirrored ? 'mirrored' : 'same-shape';
  const matched = apart === 0 ? 1 : 0.7;
  return {
    relation: apart === 0 ? same : 'reworked',
    mirrored,
    scale,
    other_facets: false,
    matched_query: matched,
    matched_candidate: matched,
    within_mm: 0.03,
    deviation,
  };
}

describe('shapeFamilies', () => {
  it('tells of shapes that were not compared what a comparison would have told (property)', () => {
    const shape = fc.record({
      form: fc.integer({ min: 0, max: 3 }),
      size: fc.constantFrom(1, 1.1, 2, 0.5),
      left: fc.boolean(),
    });
    const index = fc.nat({ max: 11 });
    fc.assert(
      fc.property(
        fc.array(shape, { minLength: 12, maxLength: 12 }),
        fc.array(fc.tuple(index, index), { maxLength: 30 }),
        (shapes, compared) => {
          const families = shapeFamilies(shapes.length);
          for (const [a, b] of compared) families.add(a, b, truth(shapes[a], shapes[b]));
          shapes.forEach((query, a) => {
            const relatives = new Map(families.relatives(a));
            shapes.forEach((candidate, b) => {
              const told = families.between(a, b);
              expect(relatives.get(b)).toEqual(a === b ? undefined : (told ?? undefined));
              if (told === undefined) return;
              const expected = truth(query, candidate);
              expect(told === null).toBe(expected === null);
              if (told === null || expected === null) return;
              expect([told.relation, told.mirrored]).toEqual([expected.relation, expected.mirrored]);
              expect(told.scale / expected.scale).toBeCloseTo(1, 9);
              expect(told.shared).toBe(expected.matched_query);
            });
          });
          for (const [a, b] of compared) expect(families.between(a, b)).not.toBeUndefined();
        },
      ),
    );
  });
});
