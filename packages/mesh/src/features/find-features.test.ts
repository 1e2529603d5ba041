import { describe, expect, it } from 'vitest';
import type { Bore, Feature, Pin } from '../measurement.ts';
import { plateWithHoles } from '../testing/plate.ts';
import { box, frustum, icosphere, prism, torus, tube } from '../testing/shapes.ts';
import { findFeatures } from './find-features.ts';

const rounds = (features: readonly Feature[]) => features.filter((f): f is Bore | Pin => f.kind !== 'plane');

describe('findFeatures', () => {
  it('finds bores of 6 to 96 sides in a plate, through and blind', () => {
    const holes = [
      { x: 10, y: 10, r: 1.6, sides: 24 },
      { x: 20, y: 10, r: 3, sides: 6 },
      { x: 30, y: 10, r: 2.5, sides: 8, depth: 3 },
      { x: 45, y: 10, r: 5, sides: 96, depth: 2 },
      { x: 55, y: 8, r: 2, sides: 12 },
    ];
    const found = rounds(findFeatures(plateWithHoles(60, 20, 5, holes)));
    expect(found.map(f => f.kind)).toEqual(holes.map(() => 'bore'));
    const expected = holes.slice().sort((a, b) => b.r - a.r);
    expected.forEach((hole, i) => {
      const depth = hole.depth ?? 5;
      expect(found[i]).toMatchObject({
        axis: [0, 0, 1],
        turn: 1,
        sides: hole.sides,
        through: hole.depth === undefined,
      });
      expect(found[i].diameter_mm).toBeCloseTo(2 * hole.r, 9);
      expect(found[i].inscribed_diameter_mm).toBeCloseTo(2 * hole.r * Math.cos(Math.PI / hole.sides), 9);
      expect(found[i].length_mm).toBeCloseTo(depth, 9);
      [hole.x, hole.y, 5 - depth / 2].forEach((c, k) => expect(found[i].at_mm[k]).toBeCloseTo(c, 9));
    });
  });

  it('tells bore and pin of a tube apart', () => {
    const found = rounds(findFeatures(tube(48, 10, 9, 20)));
    expect(found.map(f => [f.kind, Math.round(f.diameter_mm * 1e6) / 1e6, f.through])).toEqual([
      ['bore', 18, true],
      ['pin', 20, null],
    ]);
  });

  it.each([
    ['box', box(1, 2, 3)],
    ['pentagonal prism', prism(5, 2, 10)],
    ['square hole', plateWithHoles(30, 20, 5, [{ x: 10, y: 10, r: 2, sides: 4 }])],
    ['cone', frustum(24, 5, 3, 10)],
    ['slightly drafted boss', frustum(24, 5, 4.9, 10)],
    ['torus', torus(10, 3, 48, 24)],
    ['torus with a band of quads around its equator', torus(10, 3, 48, 25)],
    ['ball', icosphere(5, 4)],
  ])('calls no %s round', (_, mesh) => {
    expect(rounds(findFeatures(mesh))).toEqual([]);
  });
});
