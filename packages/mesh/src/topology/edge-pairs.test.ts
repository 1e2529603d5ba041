import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { meshOf } from '../testing/builder.ts';
import { joined, randomFrom, shuffled, weldedExactly, without } from '../testing/motions.ts';
import { plateWithHoles } from '../testing/plate.ts';
import { box, frustum, icosphere, prism, torus, tube } from '../testing/shapes.ts';
import type { Mesh } from '../types.ts';
import { pairEdges } from './edge-pairs.ts';
import { faceAdjacency } from './face-adjacency.ts';

/** The slow judge: all directed edges in a map by their two vertices. */
function byMap(mesh: Mesh) {
  const edges = new Map<string, { h: number; up: boolean }[]>();
  const t = mesh.triangles;
  for (let f = 0; f < t.length; f += 3) {
    if (new Set([t[f], t[f + 1], t[f + 2]]).size < 3) continue;
    for (let k = 0; k < 3; k++) {
      const [a, b] = [t[f + k], t[f + ((k + 1) % 3)]];
      const key = a < b ? `${a} ${b}` : `${b} ${a}`;
      edges.set(key, [...(edges.get(key) ?? []), { h: f + k, up: a < b }]);
    }
  }
  const groups = [...edges.values()];
  const twins = new Array<number>(t.length).fill(-1);
  for (const [p, q, third] of groups) {
    if (p === undefined || q === undefined || third !== undefined) continue;
    twins[p.h] = q.h;
    twins[q.h] = p.h;
  }
  const firsts = (wanted: (g: { h: number; up: boolean }[]) => boolean) =>
    groups
      .filter(wanted)
      .map(g => g[0].h)
      .sort((x, y) => x - y);
  return {
    twins,
    edges: groups.length,
    boundary: firsts(g => g.length === 1),
    flipped: firsts(g => g.length === 2 && g[0].up === g[1].up),
    nonmanifold: groups
      .filter(g => g.length > 2)
      .map(g => g.map(e => e.h))
      .sort((p, q) => p[0] - q[0]),
    closedCycle: groups.every(g => g.reduce((n, e) => n + (e.up ? 1 : -1), 0) === 0),
  };
}

function plain(mesh: Mesh) {
  const { twins, edges, boundary, flipped, crowded, crowdStarts, closedCycle } = pairEdges(mesh);
  const nonmanifold = [...crowdStarts.subarray(1)].map((end, i) => [
    ...crowded.subarray(crowdStarts[i], end),
  ]);
  return {
    twins: [...twins],
    edges,
    boundary: [...boundary],
    flipped: [...flipped],
    nonmanifold: nonmanifold.sort((p, q) => p[0] - q[0]),
    closedCycle,
  };
}

describe('pairEdges', () => {
  it('pairs every edge of closed meshes', () => {
    const hub = frustum(200, 5, 0, 3);
    for (const mesh of [
      box(1, 2, 3),
      prism(24, 5, 20),
      torus(10, 3, 16, 8),
      icosphere(1, 2),
      tube(12, 5, 4, 9),
      hub,
    ]) {
      const pairs = pairEdges(mesh);
      expect(pairs.edges).toBe(mesh.triangles.length / 2);
      expect(pairs.boundary.length + pairs.flipped.length + pairs.crowded.length).toBe(0);
      expect(pairs.closedCycle).toBe(true);
      expect(plain(mesh)).toEqual(byMap(mesh));
    }
  });

  it('tells boundary, crowded and collapsed apart', () => {
    const open = pairEdges(without(box(1, 1, 1), 0, 1));
    expect(open).toMatchObject({ edges: 17, closedCycle: false });
    expect(open.boundary).toHaveLength(4);
    // Two unit cubes that share one edge: 14 − 35 + 24 (counted by hand).
    const pair = pairEdges(weldedExactly(joined(box(1, 1, 1), box(1, 1, 1, [1, 1, 0]))));
    expect(pair).toMatchObject({ edges: 35, closedCycle: true });
    expect(pair.crowdStarts).toEqual(Int32Array.of(0, 4));
    expect(
      pairEdges(
        meshOf(
          [
            [0, 0, 0],
            [1, 0, 0],
          ],
          [[0, 1, 1]],
        ),
      ),
    ).toMatchObject({ edges: 0, collapsedFaces: 1, closedCycle: true });
  });

  it('agrees with a map of all edges on any faces at all', () => {
    const face = (n: number) => fc.tuple(fc.nat(n - 1), fc.nat(n - 1), fc.nat(n - 1));
    const faces = fc
      .integer({ min: 3, max: 12 })
      .chain(n => fc.tuple(fc.constant(n), fc.array(face(n), { maxLength: 80 })));
    fc.assert(
      fc.property(faces, ([n, list]) => {
        const mesh = { positions: new Float64Array(3 * n), triangles: Uint32Array.from(list.flat()) };
        expect(plain(mesh)).toEqual(byMap(mesh));
      }),
      { numRuns: 500 },
    );
  });

  it('agrees with a map on a hub with flaws', () => {
    const hub = frustum(300, 5, 0, 3);
    const flawed = joined(without(hub, 10, 320), { ...hub, triangles: hub.triangles.slice(0, 90) });
    for (const mesh of [weldedExactly(flawed), shuffled(weldedExactly(flawed), randomFrom(7))]) {
      expect(plain(mesh)).toEqual(byMap(mesh));
    }
  });
});

describe('faceAdjacency', () => {
  it('is mutual, and −1 only where an edge has not two faces', () => {
    const mesh = without(plateWithHoles(40, 20, 6, [{ x: 20, y: 10, r: 1.7, sides: 24 }]), 3);
    const neighbors = faceAdjacency(mesh);
    expect(neighbors.filter(f => f < 0)).toHaveLength(3);
    neighbors.forEach((g, h) => {
      if (g >= 0) expect([...neighbors.subarray(3 * g, 3 * g + 3)]).toContain(Math.floor(h / 3));
    });
  });
});
