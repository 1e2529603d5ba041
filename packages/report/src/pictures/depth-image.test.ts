import type { Mesh } from '@kinprint/mesh';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { axesOf, cameraFor, project, unproject, type ViewDirection } from './camera.ts';
import { depthImage } from './depth-image.ts';
import { directions, squareOn, threeQuarter } from './directions.ts';
import { ball, box, nothing } from './testing/shapes.ts';
import { joined, translated } from '../../../mesh/src/testing/motions.ts';

const frame = { width_px: 400, height_px: 300, margin_px: 10 };

/** mm² that a mesh covers, counted in samples. */
function covered(mesh: Mesh, direction: ViewDirection): { area: number; sample_mm: number } {
  const camera = cameraFor([mesh], direction, frame);
  const { face, samples } = depthImage(mesh, camera);
  const sample_mm = 1 / (camera.pixelsPerMm * samples);
  return { area: face.filter(f => f >= 0).length * sample_mm * sample_mm, sample_mm };
}

describe('silhouettes', () => {
  // A convex body's projected area is half the sum of its faces' (Cauchy): for a box |n_x| bc + |n_y| ca + |n_z| ab.
  it.each(directions)('of a box from the $name, in closed form', direction => {
    const [a, b, c] = [30, 20, 12];
    const { toward } = axesOf(direction);
    const expected = Math.abs(toward[0]) * b * c + Math.abs(toward[1]) * c * a + Math.abs(toward[2]) * a * b;
    const { area, sample_mm } = covered(box([5, -7, 100], [35, 13, 112]), direction);
    // Along an edge the samples that count are off by half a sample at most, and mostly cancel.
    expect(Math.abs(area - expected)).toBeLessThan(2 * (a + b + c) * 0.5 * sample_mm);
    expect(Math.abs(area / expected - 1)).toBeLessThan(4e-3);
  });

  it.each(threeQuarter)('of a ball from the $name: πr²', direction => {
    const { area } = covered(ball(15, 240), direction);
    // The facets lie inside the ball: by 1 − cos(π/240) = 9e-5 of the radius at most.
    expect(Math.abs(area / (Math.PI * 225) - 1)).toBeLessThan(1e-3);
  });

  it('have no gap along the edges that faces share', () => {
    // From the top, all samples within the outline of a finely divided plate are covered.
    const mesh = ball(10, 64);
    const camera = cameraFor([mesh], { name: 'askew', toward: [0.3, -0.7, 0.4] }, frame);
    const { face, samples, width } = depthImage(mesh, camera);
    let holes = 0;
    for (let k = 0; k < face.length; k++) {
      const x = ((k % width) + 0.5) / samples - 200;
      const y = (Math.floor(k / width) + 0.5) / samples - 150;
      const r = Math.sqrt(x * x + y * y) / camera.pixelsPerMm;
      if (r < 9.9 && face[k] < 0) holes++;
    }
    expect(holes).toBe(0);
  });
});

describe('depth', () => {
  const near = box([0, 0, 5], [10, 10, 6]);
  const far = box([2, 2, 0], [8, 8, 1]);

  it('shows what is nearer, in whatever order it is drawn', () => {
    for (const [mesh, firstOfNear] of [
      [joined(near, far), 0],
      [joined(far, near), 12],
    ] as const) {
      const { face } = depthImage(mesh, cameraFor([mesh], squareOn[4], frame));
      const seen = [...new Set(face)].filter(f => f >= 0);
      expect(seen.every(f => f >= firstOfNear && f < firstOfNear + 12)).toBe(true);
      expect(seen.length).toBeGreaterThan(0);
    }
  });

  it('is that of the surface, to single precision', () => {
    const mesh = box([0, 0, 0], [10, 20, 30]);
    const camera = cameraFor([mesh], threeQuarter[0], frame);
    const { depth, face, width, samples } = depthImage(mesh, camera);
    let looked = 0;
    for (let k = 0; k < depth.length; k += 97) {
      if (face[k] < 0) continue;
      const p = unproject(
        camera,
        ((k % width) + 0.5) / samples,
        (Math.floor(k / width) + 0.5) / samples,
        depth[k],
      );
      // Seen from front right above: one of the planes y = 0, x = 10, z = 30.
      expect(Math.min(Math.abs(p[1]), Math.abs(p[0] - 10), Math.abs(p[2] - 30))).toBeLessThan(0.02);
      looked++;
    }
    expect(looked).toBeGreaterThan(500);
  });

  it('takes the first of two faces that coincide', () => {
    const { face } = depthImage(joined(far, far), cameraFor([far], squareOn[4], frame));
    expect(face.every(f => f < 12)).toBe(true);
  });
});

describe('what is not drawn', () => {
  it('faces with a corner that is not finite; the others are', () => {
    const mesh = box([0, 0, 0], [1, 1, 1]);
    const spoiled = { ...mesh, positions: Float64Array.from(mesh.positions, (v, k) => (k === 21 ? NaN : v)) };
    const { face } = depthImage(spoiled, cameraFor([spoiled], threeQuarter[0], frame));
    expect(face.some(f => f >= 0)).toBe(true);
  });

  it('nothing, of nothing', () => {
    const camera = cameraFor([nothing], threeQuarter[0], frame);
    expect(camera.pixelsPerMm).toBeGreaterThan(0);
    expect(depthImage(nothing, camera).face.every(f => f < 0)).toBe(true);
  });

  it('the same is seen a million kilometers off, as far as double precision goes', () => {
    const here = box([0, 0, 0], [10, 20, 30]);
    const there = translated(here, [1e9, -1e9, 1e9]);
    const [a, b] = [here, there].map(mesh => {
      const { face } = depthImage(mesh, cameraFor([mesh], threeQuarter[0], frame));
      return face.filter(f => f >= 0).length;
    });
    expect(Math.abs(a / b - 1)).toBeLessThan(1e-4);
  });
});

describe('properties', () => {
  const odd = fc.oneof(
    { weight: 8, arbitrary: fc.double({ min: -50, max: 50, noNaN: true }) },
    { weight: 1, arbitrary: fc.constantFrom(NaN, Infinity, -Infinity, 1e300, -1e300, 1e-300, 3e38, 0, -0) },
  );
  const anyMesh = fc.array(odd, { minLength: 9, maxLength: 60 }).chain(values =>
    fc.array(fc.nat(Math.floor(values.length / 3) - 1), { maxLength: 60 }).map((corners): Mesh => ({
      positions: Float64Array.from(values.slice(0, 3 * Math.floor(values.length / 3))),
      triangles: Uint32Array.from(corners.slice(0, 3 * Math.floor(corners.length / 3))),
    })),
  );

  it('any mesh gives an image: faces that exist, depths that are no NaN', () => {
    fc.assert(
      fc.property(anyMesh, fc.nat(directions.length - 1), (mesh, k) => {
        const small = { width_px: 40, height_px: 30, margin_px: 2 };
        const { face, depth } = depthImage(mesh, cameraFor([mesh], directions[k], small));
        const faces = mesh.triangles.length / 3;
        expect(face.every((f, n) => f >= -1 && f < faces && depth[n] >= -Infinity)).toBe(true);
      }),
      { numRuns: 300 },
    );
  });

  it('a point comes back from its picture', () => {
    const number = fc.double({ min: -100, max: 100, noNaN: true });
    fc.assert(
      fc.property(number, number, number, fc.nat(directions.length - 1), (x, y, z, k) => {
        const camera = cameraFor([box([-100, -100, -100], [100, 100, 100])], directions[k], frame);
        const at = project(camera, [x, y, z]);
        const back = unproject(camera, at.x, at.y, at.depth);
        [x, y, z].forEach((v, n) => expect(back[n as 0]).toBeCloseTo(v, 8));
      }),
    );
  });
});
