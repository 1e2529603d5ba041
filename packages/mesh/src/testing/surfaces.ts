import type { Mesh } from '../types.ts';
import { meshBuilder, meshOf } from './builder.ts';
import { joined, weldedExactly } from './motions.ts';
import { box, ring } from './shapes.ts';

/** Wall of an n-sided prism without ends. */
export function openCylinder(n: number, r: number, h: number): Mesh {
  const m = meshBuilder();
  const low = ring(n, r).map(([x, y]) => m.vertex(x, y, 0));
  const high = ring(n, r).map(([x, y]) => m.vertex(x, y, h));
  for (let i = 0; i < n; i++) m.quad(low[i], low[(i + 1) % n], high[(i + 1) % n], high[i]);
  return m.mesh();
}

/** Möbius band of n quads (2n triangles): one side, one boundary loop. */
export function moebiusBand(n: number): Mesh {
  const m = meshBuilder();
  const rim = Array.from({ length: n }, (_, i) => {
    const u = (2 * Math.PI * i) / n;
    return [-1, 1].map(w => {
      const reach = 10 + 2 * w * Math.cos(u / 2);
      return m.vertex(reach * Math.cos(u), reach * Math.sin(u), 2 * w * Math.sin(u / 2));
    });
  });
  for (let i = 0; i < n; i++) {
    const [a, b] = rim[i];
    const [d, c] = i + 1 < n ? rim[i + 1] : [...rim[0]].reverse();
    m.quad(a, d, c, b);
  }
  return m.mesh();
}

/** The torus of seven vertices, every two of them joined (A. Möbius; A. Császár 1949). Its places are arbitrary. */
export function sevenVertexTorus(): Mesh {
  const points = Array.from({ length: 7 }, (_, i) => [i, i * i, i * i * i]);
  const faces = Array.from({ length: 7 }, (_, i) => [
    [i, (i + 1) % 7, (i + 3) % 7],
    [i, (i + 3) % 7, (i + 2) % 7],
  ]).flat();
  return meshOf(points, faces);
}

/** Two unit cubes with one edge in common, welded. */
export function cubesSharingEdge(): Mesh {
  return weldedExactly(joined(box(1, 1, 1), box(1, 1, 1, [1, 1, 0])));
}

/** Two unit cubes with one vertex in common, welded. */
export function cubesSharingVertex(): Mesh {
  return weldedExactly(joined(box(1, 1, 1), box(1, 1, 1, [1, 1, 1])));
}

/** Two unit cubes stacked on a common face that both keep, welded. */
export function cubesSharingFace(): Mesh {
  return weldedExactly(joined(box(1, 1, 1), box(1, 1, 1, [0, 0, 1])));
}
