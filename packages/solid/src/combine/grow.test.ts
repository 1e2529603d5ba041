import { bounds } from '@kinprint/mesh';
import { expect, it } from 'vitest';
import { boxMesh, prismMesh, ringPoints } from '../testing/shapes.ts';
import { grown } from './grow.ts';
import { shapeOf, turned } from './testing.ts';

it('a box grows by twice the distance along each side, however it stands and is triangulated', () => {
  const box = boxMesh([0, 0, 0], [10, 20, 30]);
  const larger = bounds(grown(box, 0.25))!;
  [10.25, 20.25, 30.25].forEach((v, k) => expect(larger.max[k]).toBeCloseTo(v, 3));
  for (const by of [0.25, -0.25]) {
    const tilted = shapeOf(grown(turned(box, 0.4, 1.2), by))!.volume_mm3;
    expect(tilted / ((10 + 2 * by) * (20 + 2 * by) * (30 + 2 * by))).toBeCloseTo(1, 4);
  }
});

it('a regular prism keeps its sides: the apothem grows by the distance', () => {
  // Area of a regular n-gon of apothem ρ: n ρ² tan(π/n).
  const area = (apothem: number) => 24 * apothem ** 2 * Math.tan(Math.PI / 24);
  const prism = prismMesh(ringPoints(24, 5), 0, 8);
  const apothem = 5 * Math.cos(Math.PI / 24);
  expect(shapeOf(grown(prism, 0.1))!.volume_mm3 / (area(apothem + 0.1) * 8.2)).toBeCloseTo(1, 3);
});

it('growing and shrinking by a little lead back', () => {
  const prism = turned(prismMesh(ringPoints(17, 5), 0, 8), 0.3, 0.9);
  const back = grown(grown(prism, 1e-3), -1e-3);
  back.positions.forEach((v, k) => expect(Math.abs(v - prism.positions[k])).toBeLessThan(2e-6));
});
