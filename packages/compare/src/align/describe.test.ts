import { expect, it } from 'vitest';
import { describePlacement, kindOf, placementParts } from './describe.ts';
import { identityPlacement } from './placement.ts';
import { mapOf } from './testing/parts.ts';

it('takes a motion with factor and reflection apart', () => {
  const m = Float64Array.from(
    mapOf({ turn: [0, 0, Math.PI / 6], shift: [1, 2, 3], scale: 1.2, mirror: true }),
  );
  const { alignment } = { alignment: describePlacement(m, kindOf(m), [10, 0, 0], 1) };
  expect(alignment.kind).toBe('uniform-scale');
  expect(alignment.mirrored).toBe(true);
  expect(alignment.rotation_deg).toBeCloseTo(30, 10);
  alignment.rotation_axis?.forEach((v, k) => expect(v).toBeCloseTo([0, 0, 1][k], 10));
  alignment.scale.forEach(s => expect(s).toBeCloseTo(1.2, 12));
  // The center (10, 0, 0) goes to (−12·cos 30° + 1, −12·sin 30° + 2, 3).
  const to = [-12 * Math.cos(Math.PI / 6) + 1 - 10, -12 * 0.5 + 2, 3];
  alignment.translation_mm.forEach((t, k) => expect(t).toBeCloseTo(to[k], 10));
});

it('names the plane of the reflection that leaves the smallest rotation', () => {
  const acrossZ = Float64Array.of(1, 0, 0, 0, 0, 1, 0, 0, 0, 0, -1, 4);
  expect(placementParts(acrossZ)).toMatchObject({ mirrored: true, reflection: 2, angle: 0 });
});

it('knows the kinds', () => {
  expect(kindOf(identityPlacement())).toBe('identity');
  expect(kindOf(Float64Array.from(mapOf({ shift: [0, 0, 1e-9] })))).toBe('rigid');
  expect(kindOf(Float64Array.from(mapOf({ turn: [0.1, 0.2, 0.3] })))).toBe('rigid');
  expect(kindOf(Float64Array.from(mapOf({ mirror: true })))).toBe('mirrored');
  expect(kindOf(Float64Array.from(mapOf({ scale: 1.0001 })))).toBe('uniform-scale');
  expect(kindOf(Float64Array.of(1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1.1, 0))).toBe('axis-scale');
});
