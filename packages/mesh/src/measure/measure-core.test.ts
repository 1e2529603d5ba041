import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { meshOf } from '../testing/builder.ts';
import {
  flipped,
  joined,
  moved,
  randomFrom,
  rotation,
  shuffled,
  translated,
  without,
} from '../testing/motions.ts';
import { plateWithHoles } from '../testing/plate.ts';
import { box, icosphere, tube } from '../testing/shapes.ts';
import { cubesSharingFace, openCylinder } from '../testing/surfaces.ts';
import type { Mesh } from '../types.ts';
import { measureCore } from './measure-core.ts';

const codes = (mesh: Mesh) =>
  measureCore(mesh)
    .notes.map(note => note.code)
    .filter(code => code !== 'self-intersections-not-computed');

describe('measureCore', () => {
  it('measures a sound part', () => {
    const part = measureCore(plateWithHoles(40, 20, 6, [{ x: 20, y: 10, r: 4, sides: 4 }]));
    // The square hole has a side of 4·√2: 6 · (800 − 32) mm³.
    expect(part.volume_mm3).toBeCloseTo(4608, 9);
    expect(part.bounds_mm).toEqual({ min: [0, 0, 0], max: [40, 20, 6], size: [40, 20, 6] });
    expect(part).toMatchObject({ shells: 1, genus: 1, triangles: part.vertices * 2 });
    expect(part.soundness.watertight).toBe(true);
    expect(part.notes.map(note => note.code)).toEqual(['self-intersections-not-computed']);
  });

  it('gives a volume whenever the faces form a closed cycle, not only when watertight', () => {
    const stacked = measureCore(cubesSharingFace());
    expect(stacked.volume_mm3).toBeCloseTo(2, 12);
    expect(stacked.centroid_mm?.[2]).toBeCloseTo(1, 12);
    expect(stacked).toMatchObject({ genus: null, soundness: { watertight: false } });
    expect(codes(cubesSharingFace())).toEqual(['no-genus']);
  });

  it('gives no volume to an open mesh, and says why', () => {
    const open = measureCore(without(box(1, 1, 1), 0, 1));
    expect(open).toMatchObject({
      volume_mm3: null,
      centroid_mm: null,
      inertia_mm5: null,
      principal: null,
      genus: 0,
    });
    expect(open.area_mm2).toBeCloseTo(5, 12);
    expect(open.notes[0]).toMatchObject({ code: 'no-volume-open', about: 'volume_mm3' });
    expect(open.notes[0].text).toContain('4 boundary edges in 1 loop.');
  });

  it('gives no volume to faces that disagree on direction', () => {
    const cube = box(1, 1, 1);
    const triangles = cube.triangles.slice();
    [triangles[0], triangles[1]] = [triangles[1], triangles[0]];
    expect(measureCore({ ...cube, triangles }).volume_mm3).toBeNull();
    expect(codes({ ...cube, triangles })).toEqual(['no-volume-orientation']);
    // A fin on an edge of the cube, folded back onto itself: no flipped edge, no border, no closed cycle.
    const fin = meshOf(
      [
        [0, 0, 0],
        [1, 0, 0],
        [0, 1, 0],
        [0, 0, 1],
      ],
      [
        [0, 2, 1],
        [0, 1, 3],
        [0, 3, 2],
        [1, 2, 3],
        [0, 2, 1],
        [0, 2, 1],
      ],
    );
    const core = measureCore(fin);
    expect(core).toMatchObject({
      volume_mm3: null,
      soundness: { boundary_edges: 0, flipped_edges: 0, duplicate_faces: 2 },
    });
    expect(core.notes[0].text).toContain('do not cancel');
  });

  it('closes seams within the tolerance and says how far', () => {
    const halfBox = (side: number, gap: number) =>
      translated(without(box(1, 2, 3), ...(side < 0 ? [10, 11] : [8, 9])), [side < 0 ? 0 : 1 + gap, 0, 0]);
    const seamed = (gap: number) => measureCore(joined(halfBox(-1, gap), halfBox(1, gap)));
    const near = seamed(2e-6);
    expect(near.volume_mm3).toBeCloseTo(12, 4);
    expect(near.soundness).toMatchObject({ watertight: false, boundary_edges: 8 });
    const note = near.notes.find(n => n.code === 'seams-closed');
    expect(note?.text).toMatch(/ 4 vertices .* 0\.0000020 mm|4 vertices .*2\.0e-6 mm/);
    expect(seamed(2e-5).volume_mm3).toBeNull();
    // The seam closes, but a hole is left: no volume, and no word of closing.
    const holed = joined(halfBox(-1, 2e-6), without(halfBox(1, 2e-6), 3));
    expect(measureCore(holed).volume_mm3).toBeNull();
    expect(codes(holed)).toEqual(['no-volume-open']);
  });

  it('says what is inside out, and what is counted twice', () => {
    const ball = icosphere(5, 1);
    expect(codes(flipped(ball))).toEqual(['inside-out']);
    expect(measureCore(flipped(ball)).volume_mm3).toBeLessThan(0);
    expect(measureCore(flipped(ball)).centroid_mm).not.toBeNull();
    const mixed = joined(ball, translated(flipped(icosphere(1, 0)), [20, 0, 0]));
    expect(codes(mixed)).toEqual(['shells-inverted', 'no-mass-inverted']);
    expect(codes(joined(flipped(ball), translated(icosphere(1, 0), [20, 0, 0])))).toContain(
      'volume-negative',
    );
    expect(measureCore(mixed)).toMatchObject({ centroid_mm: null, inertia_mm5: null, shells: 2 });
    expect(codes(joined(ball, icosphere(2, 1)))).toEqual(['shells-overlap']);
    expect(codes(joined(ball, flipped(icosphere(2, 1))))).toEqual([]);
  });

  it('measures nothing without a number that could be mistaken', () => {
    const nothing = measureCore(meshOf([], []));
    expect(nothing).toMatchObject({
      triangles: 0,
      vertices: 0,
      area_mm2: 0,
      volume_mm3: null,
      bounds_mm: null,
      genus: null,
      shells: 0,
    });
    const collapsed = measureCore(
      meshOf(
        [
          [1, 2, 3],
          [4, 5, 6],
          [9, 9, 9],
        ],
        [[0, 1, 1]],
      ),
    );
    expect(collapsed).toMatchObject({
      triangles: 1,
      vertices: 2,
      volume_mm3: null,
      soundness: { degenerate_faces: 1, watertight: false },
    });
    expect(collapsed.bounds_mm?.max).toEqual([4, 5, 6]);
    expect(collapsed.notes.map(note => note.code)).toContain('vertices-unused');
  });

  it('does not depend on place or order', () => {
    const mesh = joined(
      tube(7, 5, 3, 4),
      translated(without(icosphere(2, 1), 5, 17), [20, 0, 0]),
      translated(openCylinder(5, 1, 1), [0, 20, 0]),
    );
    const counts = ({ shells, genus, soundness, triangles, vertices }: ReturnType<typeof measureCore>) => {
      const { places_mm: _, ...flaws } = soundness;
      return { shells, genus, triangles, vertices, ...flaws };
    };
    const expected = counts(measureCore(mesh));
    expect(expected).toMatchObject({ shells: 3, genus: 1, boundary_loops: 4 });
    const part = fc.double({ min: -1, max: 1, noNaN: true });
    const turn = fc.tuple(part, part, part, part).filter(q => Math.hypot(...q) > 0.1);
    fc.assert(
      fc.property(turn, fc.integer(), (q, seed) => {
        const after = measureCore(shuffled(moved(mesh, rotation(...q), [7, -8, 9]), randomFrom(seed)));
        expect(counts(after)).toEqual(expected);
      }),
      { numRuns: 30 },
    );
  });

  it('never gives a figure that is not a number, whatever the faces', () => {
    const coordinate = fc.oneof(
      fc.constantFrom(0, 1, -1),
      fc.float({ noNaN: true, noDefaultInfinity: true, min: -1e6, max: 1e6 }),
    );
    fc.assert(
      fc.property(
        fc
          .array(fc.tuple(coordinate, coordinate, coordinate), { minLength: 4, maxLength: 9 })
          .chain(points =>
            fc.tuple(
              fc.constant(points),
              fc.array(fc.tuple(...[0, 1, 2].map(() => fc.nat(points.length - 1))), { maxLength: 30 }),
            ),
          ),
        ([points, faces]) => {
          const core = measureCore(meshOf(points, faces));
          expect(JSON.stringify(core)).toBe(
            JSON.stringify(core, (_, value: unknown) =>
              typeof value === 'number' && !Number.isFinite(value) ? 'broken' : value,
            ),
          );
          if (core.volume_mm3 === null)
            expect(core.notes.some(note => note.about === 'volume_mm3')).toBe(true);
          if (core.volume_mm3 === null) expect(core.centroid_mm).toBeNull();
        },
      ),
    );
  });
});
