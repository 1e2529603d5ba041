import { addFace, addVertex, type MeshBuilder } from '../weld/mesh-builder.ts';
import { isPlace } from './limits.ts';
import { mostPolygonCorners, triangulatePolygon } from './polygon.ts';

/** The vertices of an indexed format, in the order of the file, before any welding. */
export interface VertexPool {
  /** Three coordinates each, in millimeters. */
  coordinates: Float64Array;
  count: number;
  /** The builder's number of each vertex, as far as `owner` says that it belongs to the object at hand. */
  numbers: Uint32Array;
  owners: Uint32Array;
}

export function createVertexPool(expected: number): VertexPool {
  const room = Math.max(16, expected);
  return {
    coordinates: new Float64Array(3 * room),
    count: 0,
    numbers: new Uint32Array(room),
    owners: new Uint32Array(room),
  };
}

/** Adds a vertex; coordinates that are no place are kept, and faces that use them dropped later. */
export function poolVertex(pool: VertexPool, x: number, y: number, z: number): void {
  if (pool.count === pool.numbers.length) {
    pool.coordinates = grown(pool.coordinates, new Float64Array(2 * pool.coordinates.length));
    pool.numbers = grown(pool.numbers, new Uint32Array(2 * pool.numbers.length));
    pool.owners = grown(pool.owners, new Uint32Array(2 * pool.owners.length));
  }
  const at = 3 * pool.count++;
  pool.coordinates[at] = x;
  pool.coordinates[at + 1] = y;
  pool.coordinates[at + 2] = z;
}

/**
 * Adds a polygon to a mesh, cut into triangles.
 *
 * @param corners indices into the pool, all valid; the first `count` count.
 * @param owner a number above 0 of its own for every builder.
 * @returns `dropped` when a corner is no place, `forced` when the outline crosses itself or has too many corners
 * to cut well, so that the triangles are a guess.
 */
export function addPolygon(
  builder: MeshBuilder,
  pool: VertexPool,
  corners: Uint32Array,
  count: number,
  owner: number,
): 'added' | 'dropped' | 'forced' {
  const { coordinates } = pool;
  for (let i = 0; i < count; i++) {
    const at = 3 * corners[i];
    if (!isPlace(coordinates[at]) || !isPlace(coordinates[at + 1]) || !isPlace(coordinates[at + 2]))
      return 'dropped';
  }
  if (count === 3) {
    addCorners(builder, pool, corners[0], corners[1], corners[2], owner);
    return 'added';
  }
  const points = new Float64Array(3 * count);
  for (let i = 0; i < count; i++) points.set(coordinates.subarray(3 * corners[i], 3 * corners[i] + 3), 3 * i);
  const cut = triangulatePolygon(points, count);
  for (let i = 0; i < cut.corners.length; i += 3) {
    const [a, b, c] = [corners[cut.corners[i]], corners[cut.corners[i + 1]], corners[cut.corners[i + 2]]];
    addCorners(builder, pool, a, b, c, owner);
  }
  return cut.forced ? 'forced' : 'added';
}

/** Room for the corners of one polygon; more are refused by the readers. */
export function cornerBuffer(): Uint32Array {
  return new Uint32Array(mostPolygonCorners);
}

function addCorners(
  builder: MeshBuilder,
  pool: VertexPool,
  a: number,
  b: number,
  c: number,
  owner: number,
): void {
  const first = numberOf(builder, pool, a, owner);
  const second = numberOf(builder, pool, b, owner);
  addFace(builder, first, second, numberOf(builder, pool, c, owner));
}

function numberOf(builder: MeshBuilder, pool: VertexPool, index: number, owner: number): number {
  if (pool.owners[index] === owner) return pool.numbers[index];
  const { coordinates } = pool;
  const number = addVertex(
    builder,
    coordinates[3 * index],
    coordinates[3 * index + 1],
    coordinates[3 * index + 2],
  );
  pool.owners[index] = owner;
  pool.numbers[index] = number;
  return number;
}

function grown<T extends Float64Array | Uint32Array>(old: T, larger: T): T {
  larger.set(old);
  return larger;
}
