import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { flipped, moved, randomFrom, rotation, scaled, shuffled, without } from '../testing/motions.ts';
import { plateWithHoles } from '../testing/plate.ts';
import { box, frustum, icosphere, torus, tube } from '../testing/shapes.ts';
import { openCylinder } from '../testing/surfaces.ts';
import type { Mesh } from '../types.ts';
import { fingerprint, fingerprintValues, surfaceValues, type Fingerprint } from './fingerprint.ts';

const of = (mesh: Mesh): Fingerprint => {
  const found = fingerprint(mesh);
  if (found === null) throw new Error('no fingerprint');
  return found;
};
const apart = (a: Fingerprint, b: Fingerprint): number =>
  Math.hypot(...a.values.map((value, k) => value - b.values[k]));

/** Every face cut into four at the middles of its edges: the same surface. */
function quartered(mesh: Mesh): Mesh {
  const points = Array.from(mesh.positions);
  const triangles: number[] = [];
  const middles = new Map<string, number>();
  const middle = (i: number, j: number): number => {
    const key = i < j ? `${i} ${j}` : `${j} ${i}`;
    const known = middles.get(key);
    if (known !== undefined) return known;
    for (let k = 0; k < 3; k++) points.push((points[3 * i + k] + points[3 * j + k]) / 2);
    middles.set(key, points.length / 3 - 1);
    return points.length / 3 - 1;
  };
  for (let t = 0; t < mesh.triangles.length; t += 3) {
    const [a, b, c] = mesh.triangles.subarray(t, t + 3);
    const [ab, bc, ca] = [middle(a, b), middle(b, c), middle(c, a)];
    triangles.push(a, ab, ca, ab, b, bc, ca, bc, c, ab, bc, ca);
  }
  return { positions: Float64Array.from(points), triangles: Uint32Array.from(triangles) };
}

const shapes: Record<string, Mesh> = {
  box: box(10, 20, 35),
  frustum: frustum(24, 8, 3, 12),
  'long needles': frustum(200, 2, 2, 60),
  torus: torus(12, 4, 40, 24),
  tube: tube(40, 10, 7, 15),
  plate: plateWithHoles(60, 40, 5, [
    { x: 12, y: 10, r: 3, sides: 24 },
    { x: 45, y: 28, r: 2, sides: 24 },
  ]),
  'open cylinder': openCylinder(32, 6, 20),
};

describe('fingerprint', () => {
  it('has the closed-form values of a cube', () => {
    // Side 2: second moment per axis (8·1 + 16/3)/24 of the surface, 1/3 of the solid; area 24; volume 8.
    const { values, solid, size_mm } = of(box(2, 2, 2, [5, -3, 1]));
    expect(solid).toBe(true);
    expect(size_mm).toBeCloseTo(Math.sqrt(5 / 3), 6);
    for (const k of [0, 1, 2]) expect(values[k]).toBeCloseTo(Math.sqrt(5 / 9 / 24), 6);
    expect([values[3], values[4]]).toEqual([Math.fround(1 / 3), Math.fround(1 / 3)]);
    // All tangent planes 1 away from the middle; places of a distribution are 1/256 apart.
    for (let k = 13; k < 21; k++) expect(Math.abs(values[k] - 1 / Math.sqrt(5 / 3))).toBeLessThan(1 / 256);
    expect(values[surfaceValues]).toBeCloseTo((6 * 8) / 24 ** 1.5, 6);
    for (const k of [1, 2, 3]) expect(values[surfaceValues + k]).toBeCloseTo(Math.sqrt(1 / 3 / 24), 6);
    expect(values[surfaceValues + 4]).toBeCloseTo(0, 6);
  });

  it('has the values of a ball, where everything is one radius away and no direction stands out', () => {
    const { values } = of(icosphere(7, 5));
    for (let k = 5; k < 21; k++) expect(values[k]).toBeCloseTo(1, 2);
    for (let k = 21; k < 30; k++) expect(values[k]).toBeCloseTo(0, 3);
  });

  it.each(Object.keys(shapes))(
    'is the same for moved, mirrored, scaled, shuffled and flipped copies: %s',
    name => {
      const mesh = shapes[name];
      const first = of(mesh);
      expect(first.values).toHaveLength(fingerprintValues);
      const part = fc.double({ min: -1, max: 1, noNaN: true });
      fc.assert(
        fc.property(
          fc.tuple(part, part, part, part).filter(q => Math.hypot(...q) > 0.1),
          fc.tuple(part, part, part),
          fc.double({ min: -3, max: 3, noNaN: true }),
          fc.boolean(),
          fc.integer(),
          ([w, x, y, z], [a, b, c], power, mirror, seed) => {
            const factor = 10 ** power;
            const shift = [20 * factor * a, 20 * factor * b, 20 * factor * c] as const;
            const copy = moved(
              scaled(shuffled(mesh, randomFrom(seed)), mirror ? -factor : factor, factor, factor),
              rotation(w, x, y, z),
              shift,
            );
            const second = of(mirror ? copy : flipped(copy));
            expect(second.solid).toBe(first.solid);
            expect(apart(first, second)).toBeLessThan(1e-4);
            expect(second.size_mm / first.size_mm / factor).toBeCloseTo(1, 9);
          },
        ),
        { numRuns: 25 },
      );
    },
  );

  it.each(Object.keys(shapes))('hardly changes with the triangulation: %s', name => {
    const fine = quartered(quartered(shapes[name]));
    expect(apart(of(shapes[name]), of(fine))).toBeLessThan(2e-3);
  });

  it('hardly changes with finer chords', () => {
    expect(apart(of(frustum(48, 8, 3, 12)), of(frustum(96, 8, 3, 12)))).toBeLessThan(5e-3);
  });

  it('stays near where a hole is widened, and far from another shape', () => {
    const wider = plateWithHoles(60, 40, 5, [
      { x: 12, y: 10, r: 3.4, sides: 24 },
      { x: 45, y: 28, r: 2, sides: 24 },
    ]);
    expect(apart(of(shapes.plate), of(wider))).toBeLessThan(0.02);
    expect(apart(of(shapes.plate), of(shapes.tube))).toBeGreaterThan(0.2);
  });

  it('takes an open mesh by its surface alone, and little changes', () => {
    const open = without(quartered(shapes.plate), 3);
    const [whole, part] = [of(shapes.plate), of(open)];
    expect(part.solid).toBe(false);
    expect(part.values.slice(surfaceValues)).toEqual(new Float32Array(fingerprintValues - surfaceValues));
    const surface = (f: Fingerprint): Fingerprint => ({ ...f, values: f.values.slice(0, surfaceValues) });
    expect(apart(surface(whole), surface(part))).toBeLessThan(0.05);
  });

  it('is none without area, or beyond what numbers hold', () => {
    const none = { positions: new Float64Array(0), triangles: new Uint32Array(0) };
    const line = {
      positions: Float64Array.of(0, 0, 0, 1, 1, 1, 2, 2, 2),
      triangles: Uint32Array.of(0, 1, 2),
    };
    expect(fingerprint(none)).toBeNull();
    expect(fingerprint(line)).toBeNull();
    expect(fingerprint(scaled(shapes.box, 1e200))).toBeNull();
  });
});
