import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { randomFrom } from '../testing/motions.ts';
import { box, icosphere } from '../testing/shapes.ts';
import { soup } from '../testing/soup.ts';
import { buildTree } from './build.ts';
import { closestHit, closestPoint } from './closest.ts';
import { leafCount, leafSize, leafStart, maxDepth, noSlot } from './tree.ts';
import type { TriangleTree } from './tree.ts';

/** Walks the tree; checks that every box holds its faces; returns the depth and the slots in order. */
function walk(tree: TriangleTree): { depth: number; slots: number[] } {
  const slots: number[] = [];
  let deepest = 0;
  const visit = (node: number, depth: number): void => {
    deepest = Math.max(deepest, depth);
    const link = tree.links[node];
    const from = slots.length;
    if (link >= 0) {
      visit(link, depth + 1);
      visit(link + 1, depth + 1);
    } else {
      for (let i = 0; i < leafCount(link); i++) slots.push(leafStart(link) + i);
    }
    let escaped = 0;
    for (const slot of slots.slice(from)) {
      for (let k = 0; k < 9; k++) {
        const value =
          tree.vertices[3 * tree.corners[3 * slot + Math.floor(k / 3)] + (k % 3)] - tree.center[k % 3];
        if (value < tree.boxes[6 * node + (k % 3)] || value > tree.boxes[6 * node + 3 + (k % 3)]) escaped++;
      }
    }
    expect(escaped).toBe(0);
  };
  if (tree.size > 0) visit(0, 0);
  return { depth: deepest, slots };
}

describe('buildTree', () => {
  it('holds every face once, in boxes that contain it, with its own corners', () => {
    fc.assert(
      fc.property(
        fc.integer(),
        fc.integer({ min: 0, max: 400 }),
        fc.constantFrom(0, 1e3, 1e7),
        (seed, count, offset) => {
          const mesh = soup(randomFrom(seed), count, offset);
          const tree = buildTree(mesh);
          const { slots, depth } = walk(tree);
          expect(slots).toEqual(Array.from({ length: count }, (_, i) => i));
          expect(depth).toBeLessThanOrEqual(maxDepth);
          expect([...tree.faceOf].sort((a, b) => a - b)).toEqual(slots);
          for (const slot of slots) {
            expect(tree.slotOf[tree.faceOf[slot]]).toBe(slot);
            for (let k = 0; k < 3; k++) {
              const vertex = tree.corners[3 * slot + k];
              const original = mesh.triangles[3 * tree.faceOf[slot] + k];
              expect(tree.vertexOf[vertex]).toBe(original);
              expect([...tree.vertices.subarray(3 * vertex, 3 * vertex + 3)]).toEqual([
                ...mesh.positions.subarray(3 * original, 3 * original + 3),
              ]);
            }
          }
        },
      ),
      { numRuns: 60 },
    );
  });

  it('stays shallow where all faces coincide or shrink geometrically', () => {
    const same = { positions: box(1, 1, 1).positions, triangles: new Uint32Array(3 * 5000).fill(1) };
    expect(walk(buildTree(same)).depth).toBeLessThan(20);
    const positions = Float64Array.from(
      { length: 9 * 1000 },
      (_, i) => (1 + (i % 9) / 9) * 2 ** -Math.floor(i / 9),
    );
    const shrinking = buildTree({ positions, triangles: Uint32Array.from({ length: 3000 }, (_, i) => i) });
    expect(walk(shrinking).depth).toBeLessThanOrEqual(maxDepth);
  });

  it('leaves out faces that are not finite', () => {
    const mesh = box(1, 1, 1);
    const positions = Float64Array.from(mesh.positions);
    positions[0] = NaN;
    const touched = Array.from({ length: 12 }, (_, face) => face).filter(face =>
      mesh.triangles.subarray(3 * face, 3 * face + 3).includes(0),
    );
    const tree = buildTree({ positions, triangles: mesh.triangles });
    expect(touched.length).toBeGreaterThan(3);
    expect(tree.size).toBe(12 - touched.length);
    for (const face of touched) expect(tree.slotOf[face]).toBe(noSlot);
    walk(tree);
    expect(leafSize).toBeLessThan(8);
  });

  it('tells the faces of a part apart although a corner lies absurdly far off', () => {
    const good = icosphere(20, 3);
    for (const far of [3e38, -3e38, 1e29, 1e12]) {
      const positions = Float64Array.from(good.positions);
      positions[0] = far;
      const mesh = { positions, triangles: good.triangles };
      const tree = buildTree(mesh);
      walk(tree);
      const wide = tree.links.reduce((sum, link, node) => {
        const [x0, x1] = [tree.boxes[6 * node], tree.boxes[6 * node + 3]];
        return sum + (link < 0 && x1 - x0 > 20 ? leafCount(link) : 0);
      }, 0);
      // Six faces meet there, and a few share a leaf with one of them.
      expect(wide).toBeLessThanOrEqual(6 * leafSize);
      const hit = closestHit();
      for (let v = 1; v < 40; v++) {
        const [x, y, z] = positions.subarray(3 * v, 3 * v + 3);
        closestPoint(tree, x, y, z, hit);
        expect(hit.distanceSq).toBe(0);
      }
    }
  });
});
