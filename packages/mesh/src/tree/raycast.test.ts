import fc from 'fast-check';
import { BufferAttribute, BufferGeometry, DoubleSide, Ray, Vector3 } from 'three';
import { MeshBVH } from 'three-mesh-bvh';
import { describe, expect, it } from 'vitest';
import { flipped, joined, randomFrom, translated } from '../testing/motions.ts';
import { box, icosphere, torus } from '../testing/shapes.ts';
import { soup } from '../testing/soup.ts';
import { buildTree } from './build.ts';
import { isInside, windingNumber } from './inside.ts';
import { rayHit, raycast } from './raycast.ts';

describe('raycast', () => {
  it('meets the same first point as three-mesh-bvh', () => {
    fc.assert(
      fc.property(fc.integer(), fc.integer({ min: 1, max: 200 }), (seed, count) => {
        const random = randomFrom(seed);
        const mesh = soup(random, count);
        const geometry = new BufferGeometry();
        geometry.setAttribute('position', new BufferAttribute(mesh.positions, 3));
        geometry.setIndex(new BufferAttribute(mesh.triangles.slice(), 1));
        const other = new MeshBVH(geometry);
        const tree = buildTree(mesh);
        const hit = rayHit();
        for (let i = 0; i < 20; i++) {
          const from = new Vector3(30 * random() - 15, 30 * random() - 15, 30 * random() - 15);
          const to = new Vector3(10 * random() - 5, 10 * random() - 5, 10 * random() - 5);
          const direction = to.clone().sub(from).normalize();
          const expected = other.raycastFirst(new Ray(from, direction), DoubleSide) as {
            distance: number;
          } | null;
          raycast(tree, from.x, from.y, from.z, direction.x, direction.y, direction.z, hit);
          if (expected === null) expect(hit.face).toBe(-1);
          else expect(Math.abs(hit.t - expected.distance)).toBeLessThanOrEqual(1e-9);
        }
      }),
      { numRuns: 60 },
    );
  });

  it('says from which side, and looks through the face to skip', () => {
    const tree = buildTree(box(10, 10, 10));
    const hit = rayHit();
    raycast(tree, 4, 3, -5, 0, 0, 2, hit);
    expect(hit).toMatchObject({ t: 2.5, x: 4, y: 3, z: 0, side: 1 });
    raycast(tree, 4, 3, -5, 0, 0, 2, hit, Infinity, hit.face);
    expect(hit).toMatchObject({ t: 7.5, z: 10, side: -1 });
    raycast(tree, 4, 3, -5, 0, 0, 2, hit, 2);
    expect(hit).toMatchObject({ face: -1, t: Infinity, side: 0 });
    raycast(tree, 4, 3, -5, 0, 0, 0, hit);
    expect(hit.face).toBe(-1);
  });

  it('never slips through edges and corners of a closed surface', () => {
    const mesh = icosphere(5, 2);
    const tree = buildTree(mesh);
    const hit = rayHit();
    for (let v = 0; v < mesh.positions.length; v += 3) {
      for (let w = 0; w < mesh.positions.length; w += 33) {
        const mid = [0, 1, 2].map(k => (mesh.positions[v + k] * 3 + mesh.positions[w + k]) / 4);
        raycast(
          tree,
          0.1,
          0.2,
          0.3,
          mesh.positions[v] - 0.1,
          mesh.positions[v + 1] - 0.2,
          mesh.positions[v + 2] - 0.3,
          hit,
        );
        expect(hit.t).toBeCloseTo(1, 12);
        raycast(tree, 0, 0, 0, mid[0], mid[1], mid[2], hit);
        if (Math.hypot(...mid) > 1e-9) expect(hit.side).toBe(-1);
      }
    }
  });
});

describe('windingNumber', () => {
  it('tells inside from outside of a torus, also on lines through its vertices', () => {
    const R = 10;
    const r = 3;
    const tree = buildTree(torus(R, r, 60, 30));
    const random = randomFrom(3);
    for (let i = 0; i < 3000; i++) {
      const [x, y, z] = [
        Math.round(28 * random() - 14),
        Math.round(28 * random() - 14),
        Math.round(80 * random() - 40) / 10,
      ];
      const away = Math.hypot(Math.hypot(x, y) - R, z);
      // Between the torus and its facets the answer is the facets', not the circle's.
      if (Math.abs(away - r) < 0.1) continue;
      expect(windingNumber(tree, x, y, z)).toBe(away < r ? 1 : 0);
    }
  });

  it('counts overlapping shells and turned ones', () => {
    const two = joined(box(4, 4, 4), translated(box(4, 4, 4), [2, 2, 2]));
    expect(windingNumber(buildTree(two), 3, 3, 3)).toBe(2);
    expect(windingNumber(buildTree(two), 1, 1, 1)).toBe(1);
    expect(windingNumber(buildTree(flipped(box(4, 4, 4))), 1, 2, 3)).toBe(-1);
    expect(isInside(buildTree(flipped(box(4, 4, 4))), 1, 2, 3)).toBe(false);
    expect(windingNumber(buildTree(box(4, 4, 4)), 9, 2, 3)).toBe(0);
  });
});
