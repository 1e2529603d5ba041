import { describe, expect, it } from 'vitest';
import { measureCore } from '../measure/measure-core.ts';
import { meshOf } from '../testing/builder.ts';
import { flipped, joined, translated, without } from '../testing/motions.ts';
import { box, icosphere, torus } from '../testing/shapes.ts';
import { cubesSharingEdge, cubesSharingFace, moebiusBand } from '../testing/surfaces.ts';
import type { Mesh } from '../types.ts';

const soundness = (mesh: Mesh) => measureCore(mesh).soundness;
const clean = {
  watertight: true,
  boundary_edges: 0,
  boundary_loops: 0,
  nonmanifold_edges: 0,
  flipped_edges: 0,
  degenerate_faces: 0,
  duplicate_faces: 0,
  self_intersections: null,
  inverted_shells: 0,
  places_mm: {},
};

describe('soundness', () => {
  it('finds nothing wrong with sound meshes', () => {
    for (const mesh of [
      box(1, 2, 3),
      torus(10, 3, 12, 8),
      joined(icosphere(3, 1), flipped(icosphere(2, 1))),
    ]) {
      expect(soundness(mesh)).toEqual(clean);
    }
  });

  it('counts and places a hole', () => {
    // The top of the box: faces 2 and 3.
    expect(soundness(without(box(2, 2, 2), 2, 3))).toEqual({
      ...clean,
      watertight: false,
      boundary_edges: 4,
      boundary_loops: 1,
      places_mm: {
        boundary_edges: expect.arrayContaining([
          [1, 0, 2],
          [2, 1, 2],
          [1, 2, 2],
          [0, 1, 2],
        ]) as unknown,
        boundary_loops: [expect.any(Array)],
      },
    });
  });

  it('counts an edge of four faces once', () => {
    expect(soundness(cubesSharingEdge())).toMatchObject({
      watertight: false,
      nonmanifold_edges: 1,
      boundary_edges: 0,
      places_mm: { nonmanifold_edges: [[1, 1, 0.5]] },
    });
  });

  it('counts repeated faces whatever their direction', () => {
    const cube = box(1, 1, 1);
    const t = cube.triangles;
    const again = {
      positions: cube.positions,
      triangles: Uint32Array.of(...t, t[1], t[2], t[0], t[0], t[2], t[1]),
    };
    expect(soundness(again)).toMatchObject({ duplicate_faces: 2, watertight: false, nonmanifold_edges: 3 });
    // A sheet of two faces back to back is closed, and one of its faces repeats the other.
    const sheet = meshOf(
      [
        [0, 0, 0],
        [1, 0, 0],
        [0, 1, 0],
      ],
      [
        [0, 1, 2],
        [0, 2, 1],
      ],
    );
    expect(soundness(sheet)).toMatchObject({ duplicate_faces: 1, watertight: true });
    expect(measureCore(sheet)).toMatchObject({ volume_mm3: 0, centroid_mm: null, inertia_mm5: null });
    // The common square of two stacked cubes is there twice: with the same diagonal two faces repeat.
    expect(soundness(cubesSharingFace()).duplicate_faces).toBe(2);
    expect(
      soundness(
        meshOf(
          [
            [0, 0, 0],
            [1, 0, 0],
            [0, 1, 0],
          ],
          [
            [0, 1, 2],
            [1, 2, 0],
          ],
        ),
      ),
    ).toMatchObject({ duplicate_faces: 1, flipped_edges: 3 });
  });

  it('counts faces without area, with two equal corners or three on a line', () => {
    const points = [
      [0, 0, 0],
      [1, 0, 0],
      [0, 1, 0],
      [0.5, 0, 0],
      [1e6, 1e6, 1e6],
      [3e6, 3e6, 3e6],
      [2e6, 2e6, 2e6],
    ];
    const flat = meshOf(points, [
      [0, 1, 2],
      [0, 0, 1],
      [0, 3, 1],
      [4, 6, 5],
    ]);
    expect(soundness(flat).degenerate_faces).toBe(3);
    expect(soundness(flat).places_mm.degenerate_faces[1]).toEqual([0.5, 0, 0]);
    expect(measureCore(flat)).toMatchObject({ triangles: 4, vertices: 7 });
    // A needle 1e-6 as high as long is thin, not flat.
    expect(
      soundness(
        meshOf(
          [
            [0, 0, 0],
            [100, 0, 0],
            [50, 1e-4, 0],
          ],
          [[0, 1, 2]],
        ),
      ).degenerate_faces,
    ).toBe(0);
  });

  it('counts flipped edges, and never takes a one-sided band for sound', () => {
    const band = measureCore(moebiusBand(12));
    expect(band.soundness).toMatchObject({ watertight: false, flipped_edges: 1, boundary_loops: 1 });
    expect(band).toMatchObject({ genus: null, volume_mm3: null });
  });

  it('counts inverted shells', () => {
    const mesh = joined(box(1, 1, 1), translated(flipped(box(1, 1, 1)), [5, 0, 0]));
    expect(soundness(mesh)).toMatchObject({
      watertight: true,
      inverted_shells: 1,
      places_mm: { inverted_shells: [expect.any(Array)] },
    });
    expect(soundness(flipped(mesh)).inverted_shells).toBe(1);
    expect(soundness(flipped(box(1, 1, 1))).inverted_shells).toBe(1);
  });

  it('says of an empty mesh that it is not watertight', () => {
    expect(soundness(meshOf([], []))).toEqual({ ...clean, watertight: false });
  });
});
