import type { Mesh, Vec3 } from '@kinprint/mesh';

/** A box between two corners, outward. */
export function box(min: Vec3, max: Vec3): Mesh {
  const positions = Float64Array.from(
    [0, 1, 2, 3, 4, 5, 6, 7].flatMap(k => [
      (k & 1) === 0 ? min[0] : max[0],
      (k & 2) === 0 ? min[1] : max[1],
      (k & 4) === 0 ? min[2] : max[2],
    ]),
  );
  const quads = [
    [0, 2, 3, 1],
    [4, 5, 7, 6],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 4, 6, 2],
    [1, 3, 7, 5],
  ];
  const triangles = Uint32Array.from(quads.flatMap(([a, b, c, d]) => [a, b, c, a, c, d]));
  return { positions, triangles };
}

/** A ball of facets between meridians and parallels, outward. */
export function ball(radius: number, slices: number): Mesh {
  const rows = slices / 2;
  const positions: number[] = [0, 0, radius];
  for (let i = 1; i < rows; i++)
    for (let j = 0; j < slices; j++) {
      const [a, b] = [(Math.PI * i) / rows, (2 * Math.PI * j) / slices];
      positions.push(
        radius * Math.sin(a) * Math.cos(b),
        radius * Math.sin(a) * Math.sin(b),
        radius * Math.cos(a),
      );
    }
  positions.push(0, 0, -radius);
  const at = (i: number, j: number): number =>
    i === 0 ? 0 : i === rows ? positions.length / 3 - 1 : 1 + (i - 1) * slices + (j % slices);
  const triangles: number[] = [];
  for (let i = 0; i < rows; i++)
    for (let j = 0; j < slices; j++) {
      if (i > 0) triangles.push(at(i, j), at(i + 1, j), at(i, j + 1));
      if (i < rows - 1) triangles.push(at(i, j + 1), at(i + 1, j), at(i + 1, j + 1));
    }
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}

export const nothing: Mesh = { positions: new Float64Array(0), triangles: new Uint32Array(0) };
