import type { Mesh, Vec3 } from '@kinprint/mesh';
import type { Kernel, KernelSolid } from '@kinprint/solid';
import { seededRandom } from '../random.ts';
import { rotationOf } from '../rotation.ts';

/** Meshes for the tests of this folder, and ways to move them about as exports do. */

export function box(x: number, y: number, z: number): Mesh {
  const corner = (k: number): number[] => [k & 1 ? x : 0, k & 2 ? y : 0, k & 4 ? z : 0];
  const quads = [[0, 2, 3, 1], [4, 5, 7, 6], [0, 1, 5, 4], [2, 6, 7, 3], [0, 4, 6, 2], [1, 3, 7, 5]]; // prettier-ignore
  return {
    positions: Float64Array.from([0, 1, 2, 3, 4, 5, 6, 7].flatMap(corner)),
    triangles: Uint32Array.from(quads.flatMap(([a, b, c, d]) => [a, b, c, a, c, d])),
  };
}

/** A band of rings closed at both ends: rings of `n` points, radius and height by ring. */
function revolved(profile: readonly (readonly [number, number])[], n: number, turn = 0): Mesh {
  const positions: number[] = [];
  const triangles: number[] = [];
  for (const [r, z] of profile) {
    for (let k = 0; k < n; k += 1) {
      const angle = (2 * Math.PI * (k + turn)) / n;
      positions.push(r * Math.cos(angle), r * Math.sin(angle), z);
    }
  }
  const rings = profile.length;
  for (let i = 0; i < rings; i += 1) {
    const j = (i + 1) % rings;
    for (let k = 0; k < n; k += 1) {
      const l = (k + 1) % n;
      triangles.push(i * n + k, i * n + l, j * n + l, i * n + k, j * n + l, j * n + k);
    }
  }
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}

export function washer(outer: number, inner: number, height: number, sides: number, turn = 0): Mesh {
  return revolved([[inner, 0], [outer, 0], [outer, height], [inner, height]].map(([r, z]) => [r, z] as const), sides, turn); // prettier-ignore
}

export interface BallOptions {
  readonly rings: number;
  readonly bumps?: boolean;
  readonly dent?: boolean;
  readonly turn?: number;
}

/** A ball of radius 20; with `bumps` an irregular pebble without any flat patch, with `dent` reworked in one place. */
export function ball({ rings, bumps = false, dent = false, turn = 0 }: BallOptions): Mesh {
  const n = 2 * rings;
  const positions: number[] = [];
  const triangles: number[] = [];
  const put = (x: number, y: number, z: number): void => {
    let r = 20;
    if (bumps) {
      r +=
        1.5 * Math.sin(3 * x + 1) * Math.cos(2 * y) +
        0.8 * Math.sin(5 * z + 2 * x) +
        0.4 * Math.cos(7 * y - 3 * z + 0.5);
    }
    const d = Math.hypot(x - 0.6, y - 0.64, z - 0.48);
    if (dent && d < 0.3) r -= 2 * (1 - d / 0.3);
    positions.push(r * x, r * y, r * z);
  };
  put(0, 0, 1);
  for (let i = 1; i < rings; i += 1) {
    for (let k = 0; k < n; k += 1) {
      const a = (Math.PI * i) / rings;
      const b = (2 * Math.PI * (k + turn)) / n;
      put(Math.sin(a) * Math.cos(b), Math.sin(a) * Math.sin(b), Math.cos(a));
    }
  }
  put(0, 0, -1);
  const at = (i: number, k: number): number => 1 + (i - 1) * n + (k % n);
  const last = 1 + (rings - 1) * n;
  for (let k = 0; k < n; k += 1) {
    triangles.push(0, at(1, k), at(1, k + 1), last, at(rings - 1, k + 1), at(rings - 1, k));
    for (let i = 1; i < rings - 1; i += 1) {
      triangles.push(at(i, k), at(i + 1, k), at(i + 1, k + 1), at(i, k), at(i + 1, k + 1), at(i, k + 1));
    }
  }
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}

/** A motion (turn vector, shift), a factor and, first of all, a reflection at x = 0. */
export interface Motion {
  readonly turn?: Vec3;
  readonly shift?: Vec3;
  readonly scale?: number;
  readonly mirror?: boolean;
}

/** The twelve numbers of the map, rows of `[L | t]`. */
export function mapOf({ turn = [0, 0, 0], shift = [0, 0, 0], scale = 1, mirror = false }: Motion): number[] {
  const r = rotationOf(turn);
  return [0, 1, 2].flatMap(k => [
    scale * r[3 * k] * (mirror ? -1 : 1),
    scale * r[3 * k + 1],
    scale * r[3 * k + 2],
    shift[k],
  ]);
}

/** The mesh after a motion, rounded to 32-bit floats as a binary STL rounds it; faces keep their outside. */
export function exported(mesh: Mesh, motion: Motion): Mesh {
  const m = mapOf(motion);
  const p = mesh.positions;
  const positions = new Float32Array(p.length);
  for (let k = 0; k < p.length; k += 3) {
    for (let r = 0; r < 3; r += 1) {
      positions[k + r] = m[4 * r] * p[k] + m[4 * r + 1] * p[k + 1] + m[4 * r + 2] * p[k + 2] + m[4 * r + 3];
    }
  }
  return { positions, triangles: motion.mirror === true ? turnedRound(mesh.triangles) : mesh.triangles };
}

export function turnedRound(triangles: Uint32Array): Uint32Array {
  return triangles.map((_, k) => triangles[k % 3 === 0 ? k : k % 3 === 1 ? k + 1 : k - 1]);
}

/** Faces and vertices in another order, corners rotated; the surface is the same. */
export function reordered(mesh: Mesh, seed: number): Mesh {
  const random = seededRandom(seed);
  const permutation = (n: number): number[] => {
    const order = Array.from({ length: n }, (_, k) => k);
    for (let k = n - 1; k > 0; k -= 1) {
      const j = Math.floor(random() * (k + 1));
      [order[k], order[j]] = [order[j], order[k]];
    }
    return order;
  };
  const newPlace = permutation(mesh.positions.length / 3);
  const positions = new Float64Array(mesh.positions.length);
  newPlace.forEach((to, from) => {
    for (let c = 0; c < 3; c += 1) positions[3 * to + c] = mesh.positions[3 * from + c];
  });
  const triangles = permutation(mesh.triangles.length / 3).flatMap(f => {
    const first = Math.floor(random() * 3);
    return [0, 1, 2].map(k => newPlace[mesh.triangles[3 * f + ((first + k) % 3)]]);
  });
  return { positions, triangles: Uint32Array.from(triangles) };
}

export function withoutFaces(mesh: Mesh, drop: (face: number) => boolean): Mesh {
  return { positions: mesh.positions, triangles: mesh.triangles.filter((_, k) => !drop(Math.floor(k / 3))) };
}

/** What is done to a plate-like part; `sides` of its round features. */
export interface PlateDesign {
  readonly size: Vec3;
  /** x, y and radius of bores through the plate. */
  readonly bores: readonly Vec3[];
  /** x, y, radius and height of bosses. */
  readonly bosses: readonly (readonly [number, number, number, number])[];
  /** Corners of blocks cut away. */
  readonly cuts: readonly { readonly from: Vec3; readonly to: Vec3 }[];
  readonly sides: number;
}

/** Builds a plate by booleans. */
export function plate({ api }: Kernel, { size, bores, bosses, cuts, sides }: PlateDesign): Mesh {
  const { Manifold } = api;
  const made: KernelSolid[] = [];
  const keep = (solid: KernelSolid): KernelSolid => {
    made.push(solid);
    return solid;
  };
  try {
    let part = keep(Manifold.cube([...size]));
    for (const [x, y, r, h] of bosses) {
      part = keep(
        part.add(keep(keep(Manifold.cylinder(h + size[2], r, r * 0.8, sides)).translate([x, y, 0]))),
      );
    }
    for (const [x, y, r] of bores) {
      part = keep(part.subtract(keep(keep(Manifold.cylinder(200, r, r, sides, true)).translate([x, y, 0]))));
    }
    for (const { from, to } of cuts) {
      const block = keep(Manifold.cube([to[0] - from[0], to[1] - from[1], to[2] - from[2]]));
      part = keep(part.subtract(keep(block.translate([...from]))));
    }
    const mesh = part.getMesh();
    const positions = new Float64Array((mesh.vertProperties.length / mesh.numProp) * 3);
    for (let v = 0; v < positions.length / 3; v += 1) {
      for (let c = 0; c < 3; c += 1) positions[3 * v + c] = mesh.vertProperties[mesh.numProp * v + c];
    }
    return { positions, triangles: Uint32Array.from(mesh.triVerts) };
  } finally {
    for (const solid of made) solid.delete();
  }
}
