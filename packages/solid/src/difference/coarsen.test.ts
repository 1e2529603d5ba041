import type { Mesh } from '@kinprint/mesh';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { loadKernel, type Kernel } from '../kernel.ts';
import { findShells } from '../shells.ts';
import { subtract, union } from '../solids.ts';
import { ballMesh, boxMesh, mapped, prismMesh, ringPoints, together } from '../testing/shapes.ts';
import { windingNumber } from '../winding.ts';
import { coarsenShared, withinHulls, type Coarse } from './coarsen.ts';
import { distanceToHull } from './hulls.ts';
import { snapOnto } from './snap.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

const tolerance_mm = 1e-3;

interface Case {
  readonly meshes: readonly [Mesh, Mesh];
  readonly unmatched: readonly [Uint8Array, Uint8Array];
  readonly coarse: Coarse;
}

function coarsened(before: Mesh, after: Mesh): Case {
  const { before: a, unmatched } = snapOnto(before, after, tolerance_mm);
  const coarse = coarsenShared(
    [
      { mesh: a, unmatched: unmatched.before },
      { mesh: after, unmatched: unmatched.after },
    ],
    tolerance_mm,
  );
  if (coarse === null) throw new Error('nothing was made coarse');
  return { meshes: [a, after], unmatched: [unmatched.before, unmatched.after], coarse };
}

/** A wavy ball through which a leaning bore goes; once wider and with a stud. */
function revisions(): Case {
  const ball = mapped(ballMesh(20, 60, 120), ([x, y, z]) => {
    const out = 1 + 0.03 * Math.sin(x / 3) * Math.cos(z / 2);
    return [out * x, out * y, out * z];
  });
  const lean = (mesh: Mesh): Mesh =>
    mapped(mesh, ([x, y, z]) => [x + 0.4 * z, y - 0.2 * z, z] as [number, number, number]);
  const bore = (radius: number): Mesh => lean(prismMesh(ringPoints(24, radius), -40, 40));
  const stud = prismMesh(ringPoints(16, 1.5, [-12, 3]), 8, 20);
  return coarsened(subtract(kernel, ball, bore(2)), subtract(kernel, union(kernel, [ball, stud]), bore(2.4)));
}

/** Each face by the places of its corners, the first by text in front. */
function faces({ positions, triangles }: Mesh): string[] {
  return Array.from({ length: triangles.length / 3 }, (_, f) => {
    const at = [0, 1, 2].map(k => {
      const v = 3 * triangles[3 * f + k];
      return `${positions[v]},${positions[v + 1]},${positions[v + 2]}`;
    });
    const first = at.indexOf([...at].sort()[0]);
    return [0, 1, 2].map(k => at[(first + k) % 3]).join(' ');
  });
}

describe('what both share, made coarse', () => {
  it('is much less, closed, and the same in both; what differs is there to the last bit', () => {
    const { meshes, unmatched, coarse } = revisions();
    coarse.sides.forEach(({ mesh, faceOf }, s) => {
      expect(mesh.triangles.length).toBeLessThan(0.5 * meshes[s].triangles.length);
      expect(findShells(mesh).closed).toBe(true);
      const other = new Map<string, number>();
      for (const face of faces(coarse.sides[1 - s].mesh)) other.set(face, (other.get(face) ?? 0) + 1);
      const fine = faces(meshes[s]);
      const mine = faces(mesh);
      const alone = mine.flatMap((face, f) => {
        const count = other.get(face) ?? 0;
        other.set(face, count - 1);
        return count > 0 ? [] : [faceOf[f]];
      });
      const expected = [...unmatched[s].keys()].filter(f => unmatched[s][f] === 1);
      expect(alone).toEqual(expected);
      expected.forEach(f => expect(mine[faceOf.indexOf(f)]).toBe(fine[f]));
    });
  });

  it('winds around any point of a hull as the fine surface does', () => {
    const { meshes, coarse } = revisions();
    const [low, high] = [Math.min, Math.max].map(pick =>
      [0, 1, 2].map(k => pick(...coarse.hulls.map(hull => hull[2 * k + (pick === Math.min ? 0 : 1)]))),
    );
    // Whole numbers, which are drawn evenly.
    const share = fc.integer({ min: 0, max: 1009 }).map(n => n / 1009);
    let inside = 0;
    fc.assert(
      fc.property(fc.tuple(share, share, share), shares => {
        const point = shares.map((t, k) => low[k] + t * (high[k] - low[k])) as [number, number, number];
        if (!coarse.hulls.some(hull => distanceToHull(hull, Float64Array.from(point), 0) < 0)) return;
        inside++;
        coarse.sides.forEach(({ mesh }, s) => {
          const around = (surface: Mesh): number => windingNumber(surface, point);
          expect(around(mesh)).toBeCloseTo(around(meshes[s]), 6);
        });
      }),
      { numRuns: 600 },
    );
    expect(inside).toBeGreaterThan(20);
  });

  it('does not care how vertices and faces are numbered', () => {
    const { meshes } = revisions();
    const [plain, turned] = [meshes, meshes.map(backwards) as [Mesh, Mesh]].map(
      ([before, after]) => coarsened(before, after).coarse,
    );
    plain.sides.forEach(({ mesh }, s) => {
      expect(faces(turned.sides[s].mesh).sort()).toEqual(faces(mesh).sort());
    });
  });

  it('there is nothing to make coarse where little is shared, or all of it lies close by', () => {
    const ball = ballMesh(20, 20, 40);
    const grown = mapped(ball, ([x, y, z]) => [1.1 * x, y, z]);
    const all = new Uint8Array(ball.triangles.length / 3).fill(1);
    const sides = [ball, grown].map(mesh => ({ mesh, unmatched: all }));
    expect(coarsenShared(sides, tolerance_mm)).toBeNull();
    const small = ballMesh(20, 6, 12);
    const few = new Uint8Array(small.triangles.length / 3);
    few[0] = few[40] = 1;
    expect(coarsenShared([{ mesh: small, unmatched: few }], tolerance_mm)).toBeNull();
  });

  it('of a difference only what lies at the hulls is kept', () => {
    const { coarse } = revisions();
    const [x0, x1, y0, y1, z0, z1] = coarse.hulls[0];
    const near = ballMesh(0.1, 4, 6, [(x0 + x1) / 2, (y0 + y1) / 2, (z0 + z1) / 2]);
    expect(withinHulls(near, coarse)).toBe(near);
    const far = ballMesh(0.1, 4, 6, [30, -30, 30]);
    expect(withinHulls(far, coarse)?.triangles).toHaveLength(0);
    expect(withinHulls(together(far, near), coarse)?.triangles).toHaveLength(near.triangles.length);
  });

  it('a piece that reaches from within a hull to beyond is not taken for either', () => {
    const { coarse } = revisions();
    const [x0, x1, y0, y1, z0, z1] = coarse.hulls[0];
    const middle = [(x0 + x1) / 2, (y0 + y1) / 2, (z0 + z1) / 2] as const;
    expect(withinHulls(boxMesh([...middle], [50, 50, 50]), coarse)).toBeNull();
  });
});

function backwards({ positions, triangles }: Mesh): Mesh {
  const last = positions.length / 3 - 1;
  return {
    positions: Float64Array.from(positions, (_, i) => positions[3 * (last - Math.floor(i / 3)) + (i % 3)]),
    triangles: triangles.map((_, i, all) => last - all[all.length - 3 - 3 * Math.floor(i / 3) + (i % 3)]),
  };
}
