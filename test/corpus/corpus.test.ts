import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Mesh } from '@kinprint/mesh';
import { loadKernel, type Kernel, type KernelSolid } from '@kinprint/solid';
import { cases, treeCases, type CorpusCase } from '../../tools/corpus/index.ts';
import { mapped } from '../../tools/corpus/transform.ts';

// The corpus claims what is true of its pairs; here manifold-3d judges the claims that it can judge.

let kernel: Kernel;
let all: CorpusCase[];
beforeAll(async () => {
  kernel = await loadKernel();
  all = cases(kernel);
});
afterAll(() => {
  all = [];
});

function solidOf(mesh: Mesh): KernelSolid {
  return new kernel.api.Manifold(
    new kernel.api.Mesh({
      numProp: 3,
      vertProperties: Float32Array.from(mesh.positions),
      triVerts: mesh.triangles,
    }),
  );
}

function volumesOfChange(before: Mesh, after: Mesh): { added: number; removed: number } {
  const a = solidOf(before);
  const b = solidOf(after);
  const added = b.subtract(a);
  const removed = a.subtract(b);
  try {
    return { added: added.volume(), removed: removed.volume() };
  } finally {
    for (const solid of [a, b, added, removed]) solid.delete();
  }
}

describe('the corpus', () => {
  it('has unlike names and is the same on every run', () => {
    expect(new Set(all.map(({ name }) => name)).size).toBe(all.length);
    const again = cases(kernel);
    again.forEach((pair, i) => {
      expect(pair.after.positions).toEqual(all[i].after.positions);
      expect(pair.after.triangles).toEqual(all[i].after.triangles);
    });
  });

  it('holds closed solids, save where it says otherwise', () => {
    for (const { name, before, after } of all) {
      for (const mesh of [before, after]) {
        if (name.startsWith('an open export') && mesh === after) {
          expect(() => solidOf(mesh), name).toThrow();
          continue;
        }
        const solid = solidOf(mesh);
        const inside = name.includes('inside out') && mesh === after;
        expect(Math.sign(solid.volume()), name).toBe(inside ? -1 : 1);
        solid.delete();
      }
    }
  });

  it('states added and removed volumes that booleans confirm', () => {
    let judged = 0;
    for (const { name, before, after, expect: known } of all) {
      const map = known.alignment?.map;
      if (known.volume === undefined || map === undefined || name.startsWith('far')) continue;
      const { added, removed } = volumesOfChange(mapped(before, map), after);
      const { added_mm3, removed_mm3, relative } = known.volume;
      // Coincident surfaces that moved leave slivers of rounding: area × 32-bit noise.
      const slack = relative * Math.max(added_mm3, removed_mm3) + 0.02;
      expect(Math.abs(added - added_mm3), `${name}: added ${added}, said ${added_mm3}`).toBeLessThanOrEqual(
        slack,
      );
      expect(
        Math.abs(removed - removed_mm3),
        `${name}: removed ${removed}, said ${removed_mm3}`,
      ).toBeLessThanOrEqual(slack);
      judged++;
    }
    expect(judged).toBeGreaterThanOrEqual(10);
  });

  it('calls only such pairs unchanged as coincide under the stated map', () => {
    for (const { name, before, after, expect: known } of all) {
      const map = known.alignment?.map;
      if (
        map === undefined ||
        known.alignment?.within_mm !== undefined ||
        !known.verdicts.some(v => ['moved', 'mirrored', 'rescaled'].includes(v))
      )
        continue;
      const carried = mapped(before, map);
      const size = Math.max(...after.positions.map(Math.abs));
      const key = (p: ArrayLike<number>, i: number): string =>
        [0, 1, 2].map(k => Math.round((p[i + k] / size) * 2e5)).join();
      const near = new Set<string>();
      for (let i = 0; i < after.positions.length; i += 3) {
        // A rounded coordinate may fall on either side of a cell's edge: enter all neighbors.
        for (let n = 0; n < 27; n++) {
          const d = [(n % 3) - 1, (Math.floor(n / 3) % 3) - 1, Math.floor(n / 9) - 1];
          near.add([0, 1, 2].map(k => Math.round((after.positions[i + k] / size) * 2e5) + d[k]).join());
        }
      }
      let misses = 0;
      for (let i = 0; i < carried.positions.length; i += 3)
        if (!near.has(key(carried.positions, i))) misses++;
      if (misses === 0) continue;
      // Another triangulation of the same surface has other vertices; then no material may differ.
      const { added, removed } = volumesOfChange(carried, after);
      expect(added + removed, name).toBeLessThan(1e-3);
    }
  });

  it('has trees whose every path stands in a part line', () => {
    for (const tree of treeCases(kernel)) {
      const named = (side: 'before' | 'after'): string[] =>
        [...new Set(tree.parts.map(part => part[side]).filter(path => path !== null))].sort();
      expect(named('before'), tree.name).toEqual(Object.keys(tree.before).sort());
      expect(named('after'), tree.name).toEqual(Object.keys(tree.after).sort());
    }
  });
});
