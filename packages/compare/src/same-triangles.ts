import type { Mesh } from '@kinprint/mesh';

/**
 * Whether two meshes are the same triangles at the same places, in any order of vertices, faces and starting
 * corners. Orientation counts: a face seen from its other side is another face. Linear time.
 */
export function sameTriangles(a: Mesh, b: Mesh): boolean {
  if (a.triangles.length !== b.triangles.length || a.positions.length !== b.positions.length) return false;
  // A sum of hashes does not depend on the order: nearly every unequal pair ends here, without any table.
  if (placesHash(a.positions) !== placesHash(b.positions)) return false;
  const order = vertexMap(a.positions, b.positions);
  if (order === null) return false;
  const faces = new Map<string, number>();
  // The usual case first: same order of faces, so that no table is needed.
  let k = 0;
  const n = a.triangles.length;
  while (k < n && sameFace(order, a.triangles, b.triangles, k)) k += 3;
  if (k === n) return true;
  for (let i = k; i < n; i += 3) {
    const key = faceKey(order[a.triangles[i]], order[a.triangles[i + 1]], order[a.triangles[i + 2]]);
    faces.set(key, (faces.get(key) ?? 0) + 1);
  }
  for (let i = k; i < n; i += 3) {
    const key = faceKey(b.triangles[i], b.triangles[i + 1], b.triangles[i + 2]);
    const left = faces.get(key) ?? 0;
    if (left === 0) return false;
    faces.set(key, left - 1);
  }
  return true;
}

function sameFace(order: Uint32Array, a: Uint32Array, b: Uint32Array, k: number): boolean {
  const [p, q, r] = [order[a[k]], order[a[k + 1]], order[a[k + 2]]];
  const [x, y, z] = [b[k], b[k + 1], b[k + 2]];
  return (
    (p === x && q === y && r === z) || (p === y && q === z && r === x) || (p === z && q === x && r === y)
  );
}

function faceKey(a: number, b: number, c: number): string {
  if (b < a && b < c) return `${b},${c},${a}`;
  if (c < a && c < b) return `${c},${a},${b}`;
  return `${a},${b},${c}`;
}

/** For every vertex of `a` the vertex of `b` at exactly the same place; null when one has none. Both are welded. */
function vertexMap(a: ArrayLike<number>, b: ArrayLike<number>): Uint32Array | null {
  const n = a.length / 3;
  const map = new Uint32Array(n);
  let same = true;
  for (let k = 0; k < a.length && same; k += 1) same = a[k] === b[k];
  if (same) return map.map((_, k) => k);
  const places = new Map<string, number>();
  for (let k = 0; k < n; k += 1) places.set(`${b[3 * k]},${b[3 * k + 1]},${b[3 * k + 2]}`, k);
  for (let k = 0; k < n; k += 1) {
    const at = places.get(`${a[3 * k]},${a[3 * k + 1]},${a[3 * k + 2]}`);
    if (at === undefined) return null;
    map[k] = at;
  }
  return map;
}

/** A hash of the set of places, whatever their order: 32-bit mixing (as in MurmurHash3's finalizer), then a sum. */
function placesHash(p: ArrayLike<number>): number {
  const value = new Float64Array(1);
  const bits = new Uint32Array(value.buffer);
  let sum = 0;
  for (let k = 0; k < p.length; k += 3) {
    let h = 0x9e3779b9;
    for (let j = 0; j < 3; j += 1) {
      value[0] = p[k + j];
      h = mix(h ^ bits[0]);
      h = mix(h ^ bits[1]);
    }
    sum = (sum + h) | 0;
  }
  return sum;
}

function mix(h: number): number {
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return h ^ (h >>> 16);
}
