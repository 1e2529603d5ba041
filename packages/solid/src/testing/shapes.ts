import type { Mesh, Vec3 } from '@kinprint/mesh';

/** A box from `min` to `max`. */
export function boxMesh([x0, y0, z0]: Vec3, [x1, y1, z1]: Vec3): Mesh {
  const square: [number, number][] = [
    [x0, y0],
    [x1, y0],
    [x1, y1],
    [x0, y1],
  ];
  return prismMesh(square, z0, z1);
}

/** A prism over a convex polygon (counter-clockwise) from z0 to z1. */
export function prismMesh(polygon: readonly (readonly [number, number])[], z0: number, z1: number): Mesh {
  const n = polygon.length;
  const positions = new Float64Array(6 * n);
  const triangles: number[] = [];
  polygon.forEach(([x, y], i) => {
    positions.set([x, y, z0], 3 * i);
    positions.set([x, y, z1], 3 * (n + i));
    const j = (i + 1) % n;
    triangles.push(i, j, n + j, i, n + j, n + i);
    if (i > 0 && j > 0) triangles.push(0, j, i, n, n + i, n + j);
  });
  return { positions, triangles: Uint32Array.from(triangles) };
}

/** Corners of a regular polygon on a circle. */
export function ringPoints(n: number, r: number, center: readonly [number, number] = [0, 0], turn = 0) {
  return Array.from({ length: n }, (_, i): [number, number] => {
    const angle = turn + (2 * Math.PI * i) / n;
    return [center[0] + r * Math.cos(angle), center[1] + r * Math.sin(angle)];
  });
}

/** A ball of rings and sectors, corners on the sphere. */
export function ballMesh(r: number, rings: number, sectors: number, center: Vec3 = [0, 0, 0]): Mesh {
  const [cx, cy, cz] = center;
  const positions: number[] = [cx, cy, cz - r];
  for (let i = 1; i < rings; i++) {
    const tilt = (Math.PI * i) / rings - Math.PI / 2;
    for (let j = 0; j < sectors; j++) {
      const turn = (2 * Math.PI * j) / sectors;
      positions.push(
        cx + r * Math.cos(tilt) * Math.cos(turn),
        cy + r * Math.cos(tilt) * Math.sin(turn),
        cz + r * Math.sin(tilt),
      );
    }
  }
  positions.push(cx, cy, cz + r);
  const top = positions.length / 3 - 1;
  const at = (i: number, j: number): number => 1 + (i - 1) * sectors + (j % sectors);
  const triangles: number[] = [];
  for (let j = 0; j < sectors; j++) {
    triangles.push(0, at(1, j + 1), at(1, j), top, at(rings - 1, j), at(rings - 1, j + 1));
    for (let i = 1; i < rings - 1; i++) {
      triangles.push(at(i, j), at(i, j + 1), at(i + 1, j + 1), at(i, j), at(i + 1, j + 1), at(i + 1, j));
    }
  }
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}

/** The same faces, each vertex put through `map`. */
export function mapped(mesh: Mesh, map: (point: Vec3) => Vec3): Mesh {
  const positions = new Float64Array(mesh.positions.length);
  for (let i = 0; i < positions.length; i += 3) {
    positions.set(map([mesh.positions[i], mesh.positions[i + 1], mesh.positions[i + 2]]), i);
  }
  return { positions, triangles: mesh.triangles };
}

/** Every face reversed. */
export function insideOut(mesh: Mesh): Mesh {
  const triangles = mesh.triangles.slice();
  for (let i = 0; i < triangles.length; i += 3) triangles.set([triangles[i + 1], triangles[i]], i);
  return { positions: mesh.positions, triangles };
}

/** Both meshes side by side, vertices kept apart. */
export function together(...meshes: readonly Mesh[]): Mesh {
  const positions: number[] = [];
  const triangles: number[] = [];
  for (const mesh of meshes) {
    const offset = positions.length / 3;
    for (const x of mesh.positions) positions.push(x);
    for (const v of mesh.triangles) triangles.push(v + offset);
  }
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}
