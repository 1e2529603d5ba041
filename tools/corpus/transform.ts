import type { Mesh, Vec3 } from '@kinprint/mesh';
import type { Affine } from '../demo/shapes/solid.ts';

/** No motion. */
export const stay: Affine = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0];

/** A turn about an axis through the origin by Rodrigues' formula, then a shift. */
export function motion(axis: Vec3, degrees: number, shift: Vec3): Affine {
  const length = Math.hypot(...axis);
  const [x, y, z] = [axis[0] / length, axis[1] / length, axis[2] / length];
  const angle = (degrees * Math.PI) / 180;
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const t = 1 - c;
  return [
    t * x * x + c,
    t * x * y - s * z,
    t * x * z + s * y,
    shift[0],
    t * x * y + s * z,
    t * y * y + c,
    t * y * z - s * x,
    shift[1],
    t * x * z - s * y,
    t * y * z + s * x,
    t * z * z + c,
    shift[2],
  ];
}

/** Factors along the axes; a negative one mirrors. */
export function scaling(x: number, y = x, z = x): Affine {
  return [x, 0, 0, 0, 0, y, 0, 0, 0, 0, z, 0];
}

/** First `inner`, then `outer`. */
export function after(outer: Affine, inner: Affine): Affine {
  const result: number[] = [];
  for (let row = 0; row < 3; row++) {
    for (let column = 0; column < 4; column++) {
      let sum = column === 3 ? outer[4 * row + 3] : 0;
      for (let k = 0; k < 3; k++) sum += outer[4 * row + k] * inner[4 * k + column];
      result.push(sum);
    }
  }
  return result as unknown as Affine;
}

export function determinant([a, b, c, , d, e, f, , g, h, i]: Affine): number {
  return a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
}

export function mapPoint(map: Affine, [x, y, z]: Vec3): Vec3 {
  return [
    map[0] * x + map[1] * y + map[2] * z + map[3],
    map[4] * x + map[5] * y + map[6] * z + map[7],
    map[8] * x + map[9] * y + map[10] * z + map[11],
  ];
}

/**
 * The mesh moved as an exporter would: coordinates rounded to 32-bit floats, corners turned round when the map mirrors,
 * so that the faces still look outward.
 */
export function mapped(mesh: Mesh, map: Affine): Mesh {
  const naive = mappedKeepingOrder(mesh, map);
  if (determinant(map) > 0) return naive;
  const triangles = naive.triangles.slice();
  for (let i = 0; i < triangles.length; i += 3) {
    triangles[i + 1] = naive.triangles[i + 2];
    triangles[i + 2] = naive.triangles[i + 1];
  }
  return { positions: naive.positions, triangles };
}

/** Like `mapped`, but the corners keep their order: a mirroring map leaves the mesh inside out. */
export function mappedKeepingOrder(mesh: Mesh, map: Affine): Mesh {
  const positions = new Float32Array(mesh.positions.length);
  for (let i = 0; i < positions.length; i += 3) {
    positions.set(mapPoint(map, [mesh.positions[i], mesh.positions[i + 1], mesh.positions[i + 2]]), i);
  }
  // −0 and 0 are the same place.
  for (let i = 0; i < positions.length; i++) positions[i] = positions[i] + 0;
  return { positions, triangles: mesh.triangles.slice() };
}

/** Several meshes as one file: bodies side by side. */
export function together(...meshes: readonly Mesh[]): Mesh {
  const positions: number[] = [];
  const triangles: number[] = [];
  for (const mesh of meshes) {
    const base = positions.length / 3;
    for (const value of mesh.positions) positions.push(value);
    for (const corner of mesh.triangles) triangles.push(corner + base);
  }
  return { positions: Float32Array.from(positions), triangles: Uint32Array.from(triangles) };
}

/** The same triangles in another order, vertices renumbered and each triangle started at another corner. */
export function shuffled(mesh: Mesh, seed: number): Mesh {
  const random = randomFrom(seed);
  const vertexOrder = permutation(mesh.positions.length / 3, random);
  const faceOrder = permutation(mesh.triangles.length / 3, random);
  const positions = new Float32Array(mesh.positions.length);
  vertexOrder.forEach((to, from) => positions.set(mesh.positions.subarray(3 * from, 3 * from + 3), 3 * to));
  const triangles = new Uint32Array(mesh.triangles.length);
  faceOrder.forEach((to, from) => {
    const start = Math.floor(random() * 3);
    for (let k = 0; k < 3; k++)
      triangles[3 * to + k] = vertexOrder[mesh.triangles[3 * from + ((k + start) % 3)]];
  });
  return { positions, triangles };
}

/** Without the given share of faces, here and there: an export with holes. */
export function withHoles(mesh: Mesh, holes: number, seed: number): Mesh {
  const order = permutation(mesh.triangles.length / 3, randomFrom(seed));
  const dropped = new Set(order.slice(0, holes));
  return {
    positions: mesh.positions,
    triangles: mesh.triangles.filter((_, i) => !dropped.has(Math.floor(i / 3))),
  };
}

function permutation(count: number, random: () => number): number[] {
  const order = Array.from({ length: count }, (_, i) => i);
  for (let i = count - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1));
    [order[i], order[j]] = [order[j], order[i]];
  }
  return order;
}

/** Numbers in [0, 1) from a seed: the 32-bit xorshift of G. Marsaglia, Xorshift RNGs, J. Stat. Softw. 8(14), 2003. */
export function randomFrom(seed: number): () => number {
  let state = seed >>> 0 || 1;
  return () => {
    state ^= state << 13;
    state >>>= 0;
    state ^= state >>> 17;
    state ^= state << 5;
    state >>>= 0;
    return state / 4294967296;
  };
}
