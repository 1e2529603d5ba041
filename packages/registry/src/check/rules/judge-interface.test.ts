import type { Interface } from '@kinprint/manifest';
import { measureMesh, type Mesh } from '@kinprint/mesh';
import { describe, expect, it } from 'vitest';
import { box, prism } from '../../../../mesh/src/testing/shapes.ts';
import { joined, translated } from '../../../../mesh/src/testing/motions.ts';
import { plateWithHoles } from '../../../../mesh/src/testing/plate.ts';
import { factsOf } from '../facts.ts';
import { judgeInterfaces } from './judge-interface.ts';
import type { Verdict } from './verdict.ts';

const judge = (mesh: Mesh, ...interfaces: readonly Omit<Interface, 'id'>[]): Verdict[] =>
  judgeInterfaces(
    interfaces.map((face, k) => ({ id: `i${k}`, ...face })),
    factsOf(measureMesh(mesh)),
  );

/** Bores of 3.0 at (10, 10) and of 5.0 at (30, 10), through corners of 48-gons. */
const plate = plateWithHoles(40, 20, 5, [
  { x: 10, y: 10, r: 1.5, sides: 48 },
  { x: 30, y: 10, r: 2.5, sides: 48 },
]);
const flats = (d: number, sides: number) => d * Math.cos(Math.PI / sides);

describe('bores', () => {
  it('fit at their place, wherever on the axis it is declared, and at another size do not', () => {
    const [fits, differs] = judge(
      plate,
      { kind: 'bore', nominal_mm: 3, at_mm: [10, 10, -20], axis: [0, 0, 2] },
      { kind: 'bore', nominal_mm: 3.2, at_mm: [10, 10, 0] },
    );
    expect(fits).toMatchObject({
      state: 'fits',
      measured: { size_mm: expect.closeTo(flats(3, 48), 5) as number },
    });
    expect(differs.state).toBe('differs');
    if (differs.state !== 'differs') throw new Error();
    // Across the flats of a regular polygon: d cos(π/n).
    expect(differs.measured.size_mm).toBeCloseTo(flats(3, 48), 5);
    expect(differs.measured.other_mm).toBeCloseTo(3, 5);
  });

  it('are the nearest in size where no place is declared, each feature once', () => {
    const states = (...interfaces: Omit<Interface, 'id'>[]) => judge(plate, ...interfaces).map(v => v.state);
    expect(states({ kind: 'bore', nominal_mm: 5 }, { kind: 'bore', nominal_mm: 3 })).toEqual([
      'fits',
      'fits',
    ]);
    expect(states({ kind: 'bore', nominal_mm: 3 }, { kind: 'bore', nominal_mm: 3 })).toEqual([
      'fits',
      'missing',
    ]);
    expect(states({ kind: 'bore', nominal_mm: 3, count: 2 })).toEqual(['missing']);
    expect(states({ kind: 'bore', nominal_mm: 3.2 })).toEqual(['differs']);
    expect(states({ kind: 'bore', nominal_mm: 20 })).toEqual(['missing']);
    expect(states({ kind: 'pin', nominal_mm: 3 })).toEqual(['missing']);
  });

  it('are missing beside their place or across their axis, and the nearest is named', () => {
    const [beside, across] = judge(
      plate,
      { kind: 'bore', nominal_mm: 3, at_mm: [14, 10, 0] },
      { kind: 'bore', nominal_mm: 3, at_mm: [10, 10, 0], axis: [1, 0, 0] },
    );
    expect(beside).toMatchObject({ state: 'missing' });
    if (beside.state !== 'missing') throw new Error();
    expect(beside.nearest?.off_mm).toBeCloseTo(4, 5);
    expect(across).toEqual({ state: 'missing', found: 0, nearest: null });
  });

  it('bear the tolerance declared, on each side its own', () => {
    const states = (plus: number, minus: number) =>
      judge(plate, { kind: 'bore', nominal_mm: 3.2, tolerance_mm: { plus, minus } })[0].state;
    expect(states(0, 0.21)).toBe('fits');
    expect(states(0.3, 0.1)).toBe('differs');
  });

  it('that only their facets make too narrow are told as such', () => {
    const coarse = plateWithHoles(20, 20, 5, [{ x: 10, y: 10, r: 1.6, sides: 8 }]);
    const [verdict] = judge(coarse, { kind: 'bore', nominal_mm: 3.2 });
    expect(verdict.state).toBe('facets');
    if (verdict.state !== 'facets') throw new Error();
    expect(verdict.measured.size_mm).toBeCloseTo(flats(3.2, 8), 5);
  });
});

describe('pins', () => {
  it('are judged through their corners', () => {
    const pin = joined(box(20, 20, 5), translated(prism(32, 2, 10), [10, 10, 20]));
    const states = (nominal_mm: number) => judge(pin, { kind: 'pin', nominal_mm })[0].state;
    expect(states(4)).toBe('fits');
    expect(states(4.2)).toBe('differs');
  });
});

/** Two walls 4 mm apart. */
const walls = joined(box(5, 20, 20), box(5, 20, 20, [9, 0, 0]));

describe('slots', () => {
  it('are two planes that face each other', () => {
    const [fits, other, nowhere] = judge(
      walls,
      { kind: 'slot', nominal_mm: 4 },
      { kind: 'slot', nominal_mm: 4.5, at_mm: [7, 10, 10] },
      { kind: 'slot', nominal_mm: 4.5 },
    );
    expect(fits.state).toBe('fits');
    expect(other.state).toBe('differs');
    if (other.state !== 'differs') throw new Error();
    expect(other.measured.size_mm).toBeCloseTo(4, 6);
    expect(nowhere.state).toBe('unchecked');
  });

  it('are not the material between two faces', () => {
    expect(judge(box(4, 20, 20), { kind: 'slot', nominal_mm: 4 })[0].state).toBe('unchecked');
  });
});

describe('faces', () => {
  it('go through their point with their normal', () => {
    const judged = judge(
      box(10, 20, 30),
      { kind: 'face', at_mm: [3, 3, 30], axis: [0, 0, 5] },
      { kind: 'face', at_mm: [3, 3, 29.5], axis: [0, 0, 1] },
      { kind: 'face', at_mm: [3, 3, 30], axis: [0, 0, -1] },
      { kind: 'face', at_mm: [3, 3, 30] },
    );
    expect(judged.map(v => v.state)).toEqual(['fits', 'differs', 'unchecked', 'unchecked']);
  });
});
