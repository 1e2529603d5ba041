import type { Mat3, Mesh, Vec3 } from '../types.ts';

/** `linear · p + shift` for every vertex; the faces stay as they are, also under a reflection. */
export function moved(mesh: Mesh, linear: Mat3, shift: Vec3 = [0, 0, 0]): Mesh {
  const positions = new Float64Array(mesh.positions.length);
  for (let i = 0; i < positions.length; i += 3) {
    const [x, y, z] = [mesh.positions[i], mesh.positions[i + 1], mesh.positions[i + 2]];
    for (let r = 0; r < 3; r++) {
      const row = linear[r];
      positions[i + r] = row[0] * x + row[1] * y + row[2] * z + shift[r];
    }
  }
  return { positions, triangles: mesh.triangles };
}

export const UNMOVED: Mat3 = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

export function translated(mesh: Mesh, shift: Vec3): Mesh {
  return moved(mesh, UNMOVED, shift);
}

/** Scaled about the origin. */
export function scaled(mesh: Mesh, x: number, y = x, z = x): Mesh {
  return moved(mesh, [
    [x, 0, 0],
    [0, y, 0],
    [0, 0, z],
  ]);
}

/** Rotation matrix from any non-zero quaternion (w, x, y, z). */
export function rotation(w: number, x: number, y: number, z: number): Mat3 {
  const s = 2 / (w * w + x * x + y * y + z * z);
  return [
    [1 - s * (y * y + z * z), s * (x * y - w * z), s * (x * z + w * y)],
    [s * (x * y + w * z), 1 - s * (x * x + z * z), s * (y * z - w * x)],
    [s * (x * z - w * y), s * (y * z + w * x), 1 - s * (x * x + y * y)],
  ];
}

/** Every face turned inside out. */
export function flipped(mesh: Mesh): Mesh {
  const triangles = mesh.triangles.slice();
  for (let i = 0; i < triangles.length; i += 3)
    [triangles[i + 1], triangles[i + 2]] = [triangles[i + 2], triangles[i + 1]];
  return { positions: mesh.positions, triangles };
}

/** Several meshes in one, vertices not merged. */
export function joined(...meshes: readonly Mesh[]): Mesh {
  const positions = new Float64Array(meshes.reduce((n, m) => n + m.positions.length, 0));
  const triangles = new Uint32Array(meshes.reduce((n, m) => n + m.triangles.length, 0));
  let p = 0;
  let t = 0;
  for (const mesh of meshes) {
    const first = p / 3;
    positions.set(mesh.positions, p);
    for (const v of mesh.triangles) triangles[t++] = v + first;
    p += mesh.positions.length;
  }
  return { positions, triangles };
}

/** Equal points merged into one vertex, in order of appearance. */
export function weldedExactly(mesh: Mesh): Mesh {
  const index = new Map<string, number>();
  const positions: number[] = [];
  const renamed = new Uint32Array(mesh.positions.length / 3);
  for (let v = 0; v < renamed.length; v++) {
    const point = [0, 1, 2].map(k => mesh.positions[3 * v + k] + 0);
    const key = point.join(',');
    let at = index.get(key);
    if (at === undefined) {
      at = index.size;
      index.set(key, at);
      positions.push(...point);
    }
    renamed[v] = at;
  }
  return { positions: Float64Array.from(positions), triangles: mesh.triangles.map(v => renamed[v]) };
}

/** Some faces left out. */
export function without(mesh: Mesh, ...faces: readonly number[]): Mesh {
  const dropped = new Set(faces);
  return {
    positions: mesh.positions,
    triangles: mesh.triangles.filter((_, i) => !dropped.has(Math.floor(i / 3))),
  };
}

/** Vertices and faces in another order, faces starting at another corner; `random` gives numbers in [0, 1). */
export function shuffled(mesh: Mesh, random: () => number): Mesh {
  const vertexCount = mesh.positions.length / 3;
  const faceCount = mesh.triangles.length / 3;
  const newVertex = permutation(vertexCount, random);
  const newFace = permutation(faceCount, random);
  const positions = new Float64Array(mesh.positions.length);
  const triangles = new Uint32Array(mesh.triangles.length);
  for (let v = 0; v < vertexCount; v++)
    for (let k = 0; k < 3; k++) positions[3 * newVertex[v] + k] = mesh.positions[3 * v + k]!;
  for (let f = 0; f < faceCount; f++) {
    const turn = Math.floor(random() * 3);
    for (let k = 0; k < 3; k++)
      triangles[3 * newFace[f] + k] = newVertex[mesh.triangles[3 * f + ((k + turn) % 3)]]!;
  }
  return { positions, triangles };
}

function permutation(n: number, random: () => number): Uint32Array {
  const order = Uint32Array.from({ length: n }, (_, i) => i);
  for (let i = n - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1));
    [order[i], order[j]] = [order[j], order[i]];
  }
  return order;
}

/** Repeatable numbers in [0, 1) (mulberry32, public domain). */
export function randomFrom(seed: number): () => number {
  let state = seed | 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}
