import { buildTree, type Vec3 } from '@kinprint/mesh';
import { describe, expect, it } from 'vitest';
import { box } from '../pictures/testing/shapes.ts';
import { lengthText, measured, measuredText } from './measure.ts';
import { pick, type Cut } from './pick.ts';
import { cutOf, sectionAt } from './section.ts';

const mesh = box([0, 0, 0], [60, 40, 8]);
const part = { tree: buildTree(mesh), positions: mesh.positions, closed: true };
const down = (x: number, y: number): { from: Vec3; along: Vec3 } => ({
  from: [x, y, 100],
  along: [0, 0, -1],
});
const range = { min_mm: [0, 0, 0], max_mm: [60, 40, 8] } as const;
const above: Cut = cutOf({ axis: 'z', share: 0.25, flipped: false }, range);

describe('picking a point', () => {
  it('takes the surface, or a corner within reach', () => {
    expect(pick(part, down(30, 20), null, 1)).toEqual({ at_mm: [30, 20, 8], snapped: false });
    expect(pick(part, down(59.5, 39.5), null, 1)).toEqual({ at_mm: [60, 40, 8], snapped: true });
    expect(pick(part, down(59.5, 39.5), null, 0.5)?.snapped).toBe(false);
    expect(pick(part, down(61, 20), null, 1)).toBeNull();
  });

  it('takes the face of a cut, and no corner that is cut away', () => {
    expect(above).toEqual({ normal: [0, 0, 1], at: 2 });
    expect(pick(part, down(30, 20), above, 1)).toEqual({ at_mm: [30, 20, 2], snapped: false });
    expect(pick(part, down(59.9, 39.9), above, 3)).toEqual({ at_mm: [60, 40, 0], snapped: true });
    expect(pick(part, down(59.9, 39.9), above, 1)?.snapped).toBe(false);
  });

  it('takes the inner side where an open surface is cut', () => {
    expect(pick({ ...part, closed: false }, down(30, 20), above, 1)?.at_mm).toEqual([30, 20, 0]);
  });

  it('finds nothing where all before the eye is cut away', () => {
    const below = cutOf({ axis: 'z', share: 0.25, flipped: true }, range);
    expect(below).toEqual({ normal: [0, 0, -1], at: -2 });
    const up: { from: Vec3; along: Vec3 } = { from: [30, 20, -100], along: [0, 0, 1] };
    expect(pick(part, up, below, 1)?.at_mm).toEqual([30, 20, 2]);
    const beside: Vec3 = [30, -100, 1];
    expect(pick(part, { from: beside, along: [0, 1, 0] }, below, 1)).toBeNull();
  });
});

describe('a section', () => {
  it('lies on its axis between the ends of the part', () => {
    expect(sectionAt({ axis: 'x', share: 0.1, flipped: true }, range)).toBeCloseTo(6, 12);
    expect(sectionAt({ axis: 'y', share: 1, flipped: false }, range)).toBe(40);
  });
});

describe('a distance', () => {
  it('is told along the axes too, with as many digits as the places of the page are true to', () => {
    const told = measured([0, 0, 0], [3, -4, 12]);
    expect(told.distance_mm).toBe(13);
    expect(measuredText(told, 2 ** -10)).toBe('13.000 mm (Δx +3.000, Δy −4.000, Δz +12.000)');
    expect(measuredText(measured([1, 1, 1], [1, 1, 2]), 0.3)).toBe('1.00 mm (Δx 0, Δy 0, Δz +1.00)');
    expect(lengthText(2, 1e-9)).toBe('2.0000');
  });
});
