import fc from 'fast-check';
import { bounds, type Bounds, type Mesh } from '@kinprint/mesh';
import { BufferAttribute, BufferGeometry, DoubleSide, Ray, Vector3 } from 'three';
import { MeshBVH } from 'three-mesh-bvh';
import { beforeAll, expect, it } from 'vitest';
import '../../../../test/support/property-seed.ts';
import { loadKernel, type Kernel } from '../kernel.ts';
import { subtract, union } from '../solids.ts';
import { ballMesh, boxMesh, mapped } from '../testing/shapes.ts';
import { combineAll, turned } from './testing.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

/** A lumpy ball of 5 096 faces: enough for booleans to run on coarse copies, no flat side to hide an error. */
const ball = mapped(ballMesh(20, 50, 52), ([x, y, z]) => {
  const r = 1 + 0.05 * Math.sin(0.4 * x + 1) * Math.cos(0.3 * y) + 0.03 * Math.sin(0.5 * z);
  return [r * x, r * y, r * z];
});

/** A block or a small ball, set on the surface or cut into it. */
interface Edit {
  readonly adds: boolean;
  readonly round: boolean;
  readonly size: number;
  readonly aboutZ: number;
  readonly aboutX: number;
}

const edit: fc.Arbitrary<Edit> = fc.record({
  adds: fc.boolean(),
  round: fc.boolean(),
  size: fc.double({ min: 1.5, max: 4, noNaN: true }),
  aboutZ: fc.double({ min: 0, max: 6.28, noNaN: true }),
  aboutX: fc.double({ min: 0, max: 3.14, noNaN: true }),
});
const edits = fc.array(edit, { minLength: 1, maxLength: 3 });

function edited(base: Mesh, list: readonly Edit[]): Mesh {
  return list.reduce((mesh, { adds, round, size, aboutZ, aboutX }) => {
    const tool = round
      ? mapped(ballMesh(size, 12, 16), ([x, y, z]) => [x, y, z + 20])
      : boxMesh([-size, -size / 2, 20 - size], [size, size / 2, 20 + size]);
    const placed = turned(tool, aboutZ, aboutX);
    return adds ? union(kernel, [mesh, placed]) : subtract(kernel, mesh, placed);
  }, base);
}

/** Whether points lie within a closed surface: by how often a ray crosses it, with three-mesh-bvh. */
function membership({ positions, triangles }: Mesh) {
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(Float32Array.from(positions), 3));
  geometry.setIndex(new BufferAttribute(triangles.slice(), 1));
  const tree = new MeshBVH(geometry);
  const ray = new Ray(new Vector3(), new Vector3(0.267, 0.535, 0.802).normalize());
  return {
    within(point: Vector3): boolean {
      ray.origin.copy(point);
      return tree.raycast(ray, DoubleSide).length % 2 === 1;
    },
    distance: (point: Vector3) => tree.closestPointToPoint(point)?.distance ?? Infinity,
  };
}

/** Evenly spread points of a box: the additive recurrence of Roberts (2018), by the plastic number's kin in 3-D. */
function spread({ min, max }: Bounds, count: number): Vector3[] {
  const g = 1.22074408460575947536;
  return Array.from({ length: count }, (_, n) => {
    const at = (k: 0 | 1 | 2) => min[k] + ((0.5 + (n + 1) / g ** (k + 1)) % 1) * (max[k] - min[k]);
    return new Vector3(at(0), at(1), at(2));
  });
}

it('random edits of a lumpy ball: every point is as the three-way rule has it, told by ray casting', () => {
  let looked = 0;
  let changed = 0;
  let conflicts = 0;
  fc.assert(
    fc.property(edits, edits, (first, second) => {
      const [a, b] = [first, second].map(list => edited(ball, list));
      const { made, changes, contact, proof } = combineAll(kernel, ball, a, b, () => 'both');
      expect(proof.balances.every(balance => balance.holds)).toBe(true);
      expect(proof.presence.every(each => each.whole || !each.wanted)).toBe(true);
      const solids = [ball, a, b, made.mesh].map(membership);
      const regions = [...changes.a.pieces, ...changes.b.pieces].map(({ region }) => region.bounds_mm);
      const boxes = [bounds(made.mesh)!, ...regions];
      for (const point of boxes.flatMap(box => spread(box, 300))) {
        // Nearer than this it may be either.
        if (solids.some(solid => solid.distance(point) < 0.01)) continue;
        const [inBase, inA, inB, inResult] = solids.map(solid => solid.within(point));
        looked++;
        if (inA !== inBase || inB !== inBase) changed++;
        expect(inResult).toBe(inBase ? inA && inB : inA || inB);
      }
      conflicts += contact.conflicts.length;
    }),
    { numRuns: 6 },
  );
  // The shapes are what they are meant to be: many points within changes, and some conflicts.
  expect(looked).toBeGreaterThan(4000);
  expect(changed).toBeGreaterThan(800);
  expect(conflicts).toBeGreaterThan(1);
}, 240_000);
