import fc from 'fast-check';
import { BufferAttribute, BufferGeometry, Triangle, Vector3 } from 'three';
import { MeshBVH } from 'three-mesh-bvh';
import { describe, expect, it } from 'vitest';
import { randomFrom } from '../testing/motions.ts';
import { box, torus } from '../testing/shapes.ts';
import { soup } from '../testing/soup.ts';
import type { Mesh } from '../types.ts';
import { buildTree } from './build.ts';
import { closestHit, closestPoint } from './closest.ts';

const reads = (mesh: Mesh, face: number) =>
  [0, 1, 2].map(k => new Vector3().fromArray(mesh.positions, 3 * mesh.triangles[3 * face + k]));

/** Least distance over all faces by three's own point–triangle routine (Ericson, Real-Time Collision Detection). */
function bruteForce(mesh: Mesh, p: Vector3): number {
  let best = Infinity;
  const at = new Vector3();
  for (let face = 0; face < mesh.triangles.length / 3; face++) {
    const [a, b, c] = reads(mesh, face);
    const distances = [a, b, c].map(corner => corner.distanceTo(p));
    new Triangle(a, b, c).closestPointToPoint(p, at);
    // That routine divides by zero on faces without area; their corners still bound the distance.
    const d = at.distanceTo(p);
    best = Math.min(best, ...distances, ...(Number.isFinite(d) ? [d] : []));
  }
  return best;
}

describe('closestPoint', () => {
  it('agrees with three on random faces, with and without a hint, and names a face at that distance', () => {
    fc.assert(
      fc.property(
        fc.integer(),
        fc.integer({ min: 1, max: 200 }),
        fc.constantFrom(0, 1000, -1e6),
        (seed, count, offset) => {
          const random = randomFrom(seed);
          const mesh = soup(random, count, offset);
          const tree = buildTree(mesh);
          const hit = closestHit();
          for (let i = 0; i < 10; i++) {
            const p = new Vector3(30 * random() - 15, 30 * random() - 15, 30 * random() - 15).addScalar(
              offset,
            );
            const expected = bruteForce(mesh, p);
            // Rounding of the coordinates themselves is all that may differ.
            const slack = 1e-11 * (expected + 10) + 1e-15 * Math.abs(offset);
            for (const hint of [-1, Math.floor(random() * count)]) {
              closestPoint(tree, p.x, p.y, p.z, hit, Infinity, hint);
              expect(Math.abs(Math.sqrt(hit.distanceSq) - expected)).toBeLessThanOrEqual(slack);
              expect(Math.abs(new Vector3(hit.x, hit.y, hit.z).distanceTo(p) - expected)).toBeLessThanOrEqual(
                slack,
              );
              expect(tree.faceOf[hit.slot]).toBe(hit.face);
              const one = {
                positions: mesh.positions,
                triangles: mesh.triangles.slice(3 * hit.face, 3 * hit.face + 3),
              };
              expect(Math.abs(bruteForce(one, p) - expected)).toBeLessThanOrEqual(slack + 1e-9);
            }
          }
        },
      ),
      { numRuns: 60 },
    );
  });

  it('agrees with three-mesh-bvh on a torus', () => {
    const mesh = torus(10, 3, 80, 40);
    const tree = buildTree(mesh);
    const geometry = new BufferGeometry();
    geometry.setAttribute('position', new BufferAttribute(mesh.positions, 3));
    geometry.setIndex(new BufferAttribute(mesh.triangles.slice(), 1));
    const other = new MeshBVH(geometry);
    const random = randomFrom(7);
    const hit = closestHit();
    for (let i = 0; i < 2000; i++) {
      const p = new Vector3(30 * random() - 15, 30 * random() - 15, 12 * random() - 6);
      closestPoint(tree, p.x, p.y, p.z, hit);
      const expected = other.closestPointToPoint(p)?.distance ?? NaN;
      expect(Math.abs(Math.sqrt(hit.distanceSq) - expected)).toBeLessThanOrEqual(1e-12 * 20);
    }
  });

  it('finds nothing beyond the distance asked for, and everything within it', () => {
    const tree = buildTree(box(10, 10, 10));
    const hit = closestHit();
    closestPoint(tree, 5, 5, 13, hit, 3 ** 2 * (1 - 1e-9));
    expect(hit).toMatchObject({ face: -1, slot: -1, distanceSq: Infinity });
    closestPoint(tree, 5, 5, 13, hit, 3 ** 2 * (1 + 1e-9));
    expect(hit).toMatchObject({ x: 5, y: 5, z: 10, distanceSq: 9 });
  });

  it('finds a needle by its edges, however flat', () => {
    const positions = new Float64Array([0, 0, 0, 10, 0, 0, 5, 1e-14, 0]);
    const tree = buildTree({ positions, triangles: Uint32Array.of(0, 1, 2) });
    const hit = closestHit();
    closestPoint(tree, 7, 3, 4, hit);
    expect(Math.sqrt(hit.distanceSq)).toBeCloseTo(5, 12);
    expect(hit.x).toBeCloseTo(7, 12);
  });

  it('answers that there is no face in an empty mesh, and for a point that is not finite', () => {
    const hit = closestHit();
    closestPoint(buildTree({ positions: new Float32Array(0), triangles: new Uint32Array(0) }), 0, 0, 0, hit);
    expect(hit.face).toBe(-1);
    closestPoint(buildTree(box(1, 1, 1)), NaN, 0, 0, hit);
    expect(hit.face).toBe(-1);
  });
});
