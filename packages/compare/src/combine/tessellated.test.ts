import fc from 'fast-check';
import { expect, it } from 'vitest';
import '../../../../test/support/property-seed.ts';
import { compareDefaults } from '../defaults.ts';
import { tessellatedAnew } from './tessellated.ts';

const of = (depths: readonly number[]) => tessellatedAnew(depths.map(depth_mm => ({ depth_mm })));
const { facetDepth_mm, facetPlaces } = compareDefaults;
const depth = fc.double({ min: 1e-5, max: facetDepth_mm, noNaN: true });

it('many shallow places, however many deep ones: the tolerance is above all shallow ones, and no more than it must', () => {
  fc.assert(
    fc.property(
      fc.array(depth, { minLength: facetPlaces, maxLength: 60 }),
      fc.array(fc.double({ min: 0.2, max: 9, noNaN: true }), { maxLength: 5 }),
      (shallow, deep) => {
        const found = of([...deep, ...shallow])!;
        expect(found.places).toBe(shallow.length);
        expect(found.within_mm).toBe(Math.max(...shallow));
        expect(found.tolerance_mm).toBeGreaterThan(found.within_mm);
        // From 1 to 2, 2 to 5, 5 to 10: two and a half times at most, and the room.
        expect(found.tolerance_mm).toBeLessThan(2.5 * 1.06 * found.within_mm);
        expect(String(found.tolerance_mm)).toMatch(/^(0\.0*[125]|[125]e-\d)$/);
      },
    ),
  );
});

it('a few shallow places, or deep ones alone, are changes', () => {
  expect(of(Array.from({ length: facetPlaces - 1 }, () => 0.01))).toBeNull();
  expect(of(Array.from({ length: 40 }, () => 0.3))).toBeNull();
});
