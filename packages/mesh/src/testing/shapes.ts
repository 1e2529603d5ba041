import type { Mesh, Vec3 } from '../types.ts';
import { meshBuilder, meshOf } from './builder.ts';

/** Box with edges a, b, c along x, y, z, its lowest corner at `at`. 12 triangles. */
export function box(a: number, b: number, c: number, at: Vec3 = [0, 0, 0]): Mesh {
  const m = meshBuilder();
  const corner = (i: number, j: number, k: number) => m.vertex(at[0] + i * a, at[1] + j * b, at[2] + k * c);
  const v = [0, 1, 2, 3, 4, 5, 6, 7].map(n => corner(n & 1, (n >> 1) & 1, n >> 2));
  const sides = [
    [0, 2, 3, 1],
    [4, 5, 7, 6],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 4, 6, 2],
    [1, 3, 7, 5],
  ];
  for (const side of sides) m.polygon(side.map(n => v[n]));
  return m.mesh();
}

/** The corner of the unit cube, or any four points; outward when v1, v2, v3 turn left seen from off v0. */
export function tetrahedron(
  v0: Vec3 = [0, 0, 0],
  v1: Vec3 = [1, 0, 0],
  v2: Vec3 = [0, 1, 0],
  v3: Vec3 = [0, 0, 1],
): Mesh {
  return meshOf(
    [v0, v1, v2, v3],
    [
      [0, 2, 1],
      [0, 1, 3],
      [0, 3, 2],
      [1, 2, 3],
    ],
  );
}

/** Regular tetrahedron of edge a, centered at the origin. */
export function regularTetrahedron(a: number): Mesh {
  const s = a / Math.sqrt(8);
  return tetrahedron([s, s, s], [-s, s, -s], [s, -s, -s], [-s, -s, s]);
}

/** Vertices of a regular n-gon of circumradius r, counter-clockwise, the first on the x axis. */
export function ring(n: number, r: number, center: readonly [number, number] = [0, 0]): [number, number][] {
  return Array.from({ length: n }, (_, i) => {
    const angle = (2 * Math.PI * i) / n;
    return [center[0] + r * Math.cos(angle), center[1] + r * Math.sin(angle)];
  });
}

/** Frustum of a regular n-gon pyramid: circumradius r1 at z = 0, r2 at z = h (0 gives the apex), axis z. */
export function frustum(n: number, r1: number, r2: number, h: number): Mesh {
  const m = meshBuilder();
  const low = ring(n, r1).map(([x, y]) => m.vertex(x, y, 0));
  const high = ring(n, r2).map(([x, y]) => m.vertex(x, y, h));
  m.polygon([...low].reverse());
  if (r2 > 0) m.polygon(high);
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    if (r2 > 0) m.quad(low[i], low[j], high[j], high[i]);
    else m.triangle(low[i], low[j], high[0]);
  }
  return m.mesh();
}

/** Prism over a regular n-gon of circumradius r: a tessellated cylinder from z = 0 to z = h. */
export function prism(n: number, r: number, h: number): Mesh {
  return frustum(n, r, r, h);
}

/** Torus about z on an m × n grid: center-line radius R, tube radius r; vertex (i, j) has index i·n + j. */
export function torus(R: number, r: number, m: number, n: number): Mesh {
  const positions = new Float64Array(3 * m * n);
  const triangles = new Uint32Array(6 * m * n);
  for (let i = 0, p = 0, t = 0; i < m; i++) {
    const u = (2 * Math.PI * i) / m;
    for (let j = 0; j < n; j++) {
      const v = (2 * Math.PI * j) / n;
      const reach = R + r * Math.cos(v);
      positions[p++] = reach * Math.cos(u);
      positions[p++] = reach * Math.sin(u);
      positions[p++] = r * Math.sin(v);
      const a = i * n + j;
      const b = ((i + 1) % m) * n + j;
      const c = ((i + 1) % m) * n + ((j + 1) % n);
      const d = i * n + ((j + 1) % n);
      triangles.set([a, b, c, a, c, d], t);
      t += 6;
    }
  }
  return { positions, triangles };
}

/** Tube about z from z = 0 to z = h with n sides, open through the middle (genus 1). */
export function tube(n: number, outer: number, inner: number, h: number): Mesh {
  const m = meshBuilder();
  const at = (r: number, z: number) => ring(n, r).map(([x, y]) => m.vertex(x, y, z));
  const [outLow, outHigh, inLow, inHigh] = [at(outer, 0), at(outer, h), at(inner, 0), at(inner, h)];
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    m.quad(outLow[i], outLow[j], outHigh[j], outHigh[i]);
    m.quad(inLow[j], inLow[i], inHigh[i], inHigh[j]);
    m.quad(outHigh[i], outHigh[j], inHigh[j], inHigh[i]);
    m.quad(outLow[j], outLow[i], inLow[i], inLow[j]);
  }
  return m.mesh();
}

/** Icosahedron of circumradius r, split `level` times in four and pushed onto the sphere. 20 · 4^level triangles. */
export function icosphere(r: number, level: number): Mesh {
  const g = (1 + Math.sqrt(5)) / 2;
  const points: number[][] = [];
  const push = (x: number, y: number, z: number) => {
    const s = r / Math.hypot(x, y, z);
    return points.push([x * s, y * s, z * s]) - 1;
  };
  for (const [x, y] of [
    [-1, g],
    [1, g],
    [-1, -g],
    [1, -g],
  ] as const)
    push(x, y, 0);
  for (const [y, z] of [
    [-1, g],
    [1, g],
    [-1, -g],
    [1, -g],
  ] as const)
    push(0, y, z);
  for (const [z, x] of [
    [-1, g],
    [1, g],
    [-1, -g],
    [1, -g],
  ] as const)
    push(x, 0, z);
  // prettier-ignore
  let faces = [
    [0, 11, 5], [0, 5, 1], [0, 1, 7], [0, 7, 10], [0, 10, 11], [1, 5, 9], [5, 11, 4], [11, 10, 2], [10, 7, 6],
    [7, 1, 8], [3, 9, 4], [3, 4, 2], [3, 2, 6], [3, 6, 8], [3, 8, 9], [4, 9, 5], [2, 4, 11], [6, 2, 10], [8, 6, 7],
    [9, 8, 1],
  ];
  for (let k = 0; k < level; k++) {
    const middles = new Map<number, number>();
    const middle = (i: number, j: number) => {
      const key = Math.min(i, j) * 2 ** 26 + Math.max(i, j);
      const known = middles.get(key);
      if (known !== undefined) return known;
      const [p, q] = [points[i], points[j]];
      const made = push(p[0] + q[0], p[1] + q[1], p[2] + q[2]);
      middles.set(key, made);
      return made;
    };
    faces = faces.flatMap(([a, b, c]) => {
      const [ab, bc, ca] = [middle(a, b), middle(b, c), middle(c, a)];
      return [
        [a, ab, ca],
        [ab, b, bc],
        [ca, bc, c],
        [ab, bc, ca],
      ];
    });
  }
  return meshOf(points, faces);
}
