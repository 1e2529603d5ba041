import type { Mesh } from '@kinprint/mesh';

/** Per face 1 when the other mesh has a face with the same three corners, bit for bit; orientation is not looked at. */
export interface SharedFaces {
  readonly before: Uint8Array;
  readonly after: Uint8Array;
  /** Number of faces marked. */
  readonly count: { readonly before: number; readonly after: number };
}

/**
 * Finds the faces that both meshes have. Their distance from the other surface is 0, so that a local edit costs what
 * its own faces cost. Linear time; −0 counts as 0; faces with corners that are not finite are never shared.
 */
export function sharedFaces(before: Mesh, after: Mesh): SharedFaces {
  const { own, other } = commonVertices(after.positions, before.positions);
  const vertices = own.length;
  const faces = after.triangles.length / 3;
  // The faces of AFTER in buckets by their least corner, with the two other corners sorted.
  const first = new Uint32Array(vertices + 1);
  const key = new Int32Array(3);
  for (let face = 0; face < faces; face++) {
    if (sortCorners(after.triangles, face, own, key)) first[key[0] + 1]++;
  }
  for (let v = 0; v < vertices; v++) first[v + 1] += first[v];
  const fill = first.slice(0, vertices);
  const bucketFace = new Uint32Array(faces);
  const middle = new Int32Array(faces);
  const greatest = new Int32Array(faces);
  for (let face = 0; face < faces; face++) {
    if (!sortCorners(after.triangles, face, own, key)) continue;
    const at = fill[key[0]]++;
    bucketFace[at] = face;
    middle[at] = key[1];
    greatest[at] = key[2];
  }
  const shared = { before: new Uint8Array(before.triangles.length / 3), after: new Uint8Array(faces) };
  const count = { before: 0, after: 0 };
  for (let face = 0; face < shared.before.length; face++) {
    if (!sortCorners(before.triangles, face, other, key)) continue;
    for (let at = first[key[0]], end = first[key[0] + 1]; at < end; at++) {
      if (middle[at] !== key[1] || greatest[at] !== key[2]) continue;
      count.before += 1 - shared.before[face];
      count.after += 1 - shared.after[bucketFace[at]];
      shared.before[face] = shared.after[bucketFace[at]] = 1;
    }
  }
  return { ...shared, count };
}

/** Writes the names of a face's corners to `out`, ascending; false when one has no name. */
function sortCorners(triangles: Uint32Array, face: number, names: Int32Array, out: Int32Array): boolean {
  const a = names[triangles[3 * face]];
  const b = names[triangles[3 * face + 1]];
  const c = names[triangles[3 * face + 2]];
  if (a < 0 || b < 0 || c < 0) return false;
  const low = Math.min(a, b, c);
  const high = Math.max(a, b, c);
  out[0] = low;
  out[1] = a + b + c - low - high;
  out[2] = high;
  return true;
}

type Positions = Mesh['positions'];

/**
 * A name for every place: for `positions` the first vertex there, for `others` the vertex of `positions` there. −1
 * where there is none, or where a coordinate is not finite.
 */
function commonVertices(positions: Positions, others: Positions): { own: Int32Array; other: Int32Array } {
  const vertices = positions.length / 3;
  let size = 16;
  while (size < 2 * vertices) size *= 2;
  const table = new Int32Array(size).fill(-1);
  const own = new Int32Array(vertices).fill(-1);
  for (let v = 0; v < vertices; v++) {
    let at = placeHash(positions, v) & (size - 1);
    while (table[at] >= 0 && !samePlace(positions, table[at], positions, v)) at = (at + 1) & (size - 1);
    if (table[at] < 0 && samePlace(positions, v, positions, v)) table[at] = v;
    own[v] = table[at];
  }
  const other = new Int32Array(others.length / 3).fill(-1);
  let guess = 0;
  for (let v = 0; v < other.length; v++) {
    // Revisions mostly keep the order of their vertices.
    if (guess < vertices && samePlace(positions, guess, others, v)) {
      other[v] = own[guess++];
      continue;
    }
    let at = placeHash(others, v) & (size - 1);
    while (table[at] >= 0 && !samePlace(positions, table[at], others, v)) at = (at + 1) & (size - 1);
    other[v] = table[at];
    if (other[v] >= 0) guess = other[v] + 1;
  }
  return { own, other };
}

/** False when a coordinate is NaN. */
function samePlace(a: Positions, i: number, b: Positions, j: number): boolean {
  return a[3 * i] === b[3 * j] && a[3 * i + 1] === b[3 * j + 1] && a[3 * i + 2] === b[3 * j + 2];
}

const value = new Float64Array(1);
const bits = new Int32Array(value.buffer);

/** Mixes the bits of the three coordinates, in the way of MurmurHash3 (public domain). */
function placeHash(positions: Positions, vertex: number): number {
  let h = 0x9e3779b9;
  for (let k = 3 * vertex, end = k + 3; k < end; k++) {
    value[0] = positions[k] + 0;
    h = Math.imul(h ^ bits[0], 0x85ebca6b);
    h = Math.imul(h ^ (h >>> 15) ^ bits[1], 0xc2b2ae35);
    h ^= h >>> 13;
  }
  return h ^ (h >>> 16);
}
