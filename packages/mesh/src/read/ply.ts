import type { ByteSource } from '../bytes.ts';
import { InputError } from '../error.ts';
import type { Format, MeshObject, Note, Unit } from '../types.ts';
import { builtMesh, createMeshBuilder, type MeshBuilder } from '../weld/mesh-builder.ts';
import { droppedFacets, emptyObject, guessedPolygons } from './notes.ts';
import { readPlyHeader, type PlyElement, type PlyProperty } from './ply-header.ts';
import { plyValues, type PlyValues } from './ply-values.ts';
import { mostPolygonCorners } from './polygon.ts';
import { toMillimeters } from './units.ts';
import { addPolygon, cornerBuffer, createVertexPool, poolVertex, type VertexPool } from './vertex-pool.ts';

interface Progress {
  readonly values: PlyValues;
  readonly unit: Unit;
  readonly pool: VertexPool;
  readonly builder: MeshBuilder;
  readonly corners: Uint32Array;
  faces: number;
  dropped: number;
  readonly firstDropped: number[];
  guessed: number;
}

/**
 * Reads a PLY file, text or binary in either byte order, in one walk: one object, welded exactly, in millimeters.
 *
 * Takes `x`, `y`, `z` of the element `vertex`, polygons from `vertex_indices` or `vertex_index` of `face`, and
 * strips from `tristrips` (−1 starts a new one); passes over all else. Vertices must stand before faces. Numbers
 * behind the last element are ignored.
 *
 * @throws {InputError} `ply-header`, `ply-truncated` (also for counts that the file is too small for),
 * `ply-index`, `ply-face-corners`, `not-a-number`, `conflict-marker`; with the line in text, the byte in binary.
 *
 * Format: polygon file format description, 1994.
 */
export function readPly(
  source: ByteSource,
  unit: Unit,
): { format: Format; objects: MeshObject[]; notes: Note[] } {
  const header = readPlyHeader(source);
  const format = header.encoding === 'ascii' ? 'ply-ascii' : 'ply-binary';
  const values = plyValues(source, header);
  const progress: Progress = {
    values,
    unit,
    pool: createVertexPool(16),
    builder: createMeshBuilder(),
    corners: cornerBuffer(),
    faces: 0,
    dropped: 0,
    firstDropped: [],
    guessed: 0,
  };
  if (header.elements.filter(element => element.name === 'vertex').length !== 1) {
    throw headerError('the header has no element "vertex", or several');
  }
  for (const element of header.elements) readElement(progress, element);
  const notes = [
    ...droppedFacets(progress.dropped, progress.faces, progress.firstDropped),
    ...guessedPolygons(progress.guessed),
  ];
  if (progress.builder.cornerCount === 0) return { format, ...emptyObject(null, notes) };
  return { format, objects: [{ name: null, mesh: builtMesh(progress.builder) }], notes };
}

function readElement(progress: Progress, element: PlyElement): void {
  const { values } = progress;
  const { name, count, properties } = element;
  // Without properties there is nothing to read, however many there are said to be.
  if (properties.length === 0) return;
  const least = properties.reduce(
    (sum, property) => sum + values.leastBytes(property.countType ?? property.type),
    0,
  );
  if (count * least > values.left()) {
    const what = `${count} × "${name}" take at least ${count * least} bytes, but ${values.left()} are left`;
    throw values.error('ply-truncated', what);
  }
  if (name === 'vertex') {
    readVertices(progress, element);
    return;
  }
  const read = name === 'face' ? readPolygon : name === 'tristrips' ? readStrips : null;
  const list =
    read && properties.findIndex(p => p.countType !== null && /^vertex_(indices|index)$/.test(p.name));
  if (list === -1 && count > 0) throw headerError(`element "${name}" has no list vertex_indices`);
  for (let i = 0; i < count; i++) {
    for (let k = 0; k < properties.length; k++) {
      if (read !== null && k === list) read(progress, properties[k]);
      else passOver(values, properties[k]);
    }
  }
}

function readVertices(progress: Progress, element: PlyElement): void {
  const { values, unit, pool } = progress;
  const places = element.properties.map(property =>
    ['x', 'y', 'z'].indexOf(property.countType ? '' : property.name),
  );
  if (![0, 1, 2].every(axis => places.filter(place => place === axis).length === 1)) {
    throw headerError('the vertices have no x, y and z');
  }
  const at = new Float64Array(3);
  for (let i = 0; i < element.count; i++) {
    for (let k = 0; k < places.length; k++) {
      if (places[k] < 0) passOver(values, element.properties[k]);
      else at[places[k]] = toMillimeters(values.next(element.properties[k].type), unit);
    }
    poolVertex(pool, at[0], at[1], at[2]);
  }
}

function readPolygon(progress: Progress, property: PlyProperty): void {
  const { values, corners } = progress;
  progress.faces++;
  const count = listLength(values, property);
  if (count < 3 || count > mostPolygonCorners) {
    throw values.error(
      'ply-face-corners',
      `face ${progress.faces} has ${count} corners, not 3 to ${mostPolygonCorners}`,
    );
  }
  for (let i = 0; i < count; i++) corners[i] = vertexIndex(progress, values.next(property.type));
  addFaceOf(progress, count);
}

function readStrips(progress: Progress, property: PlyProperty): void {
  const { values, corners } = progress;
  const count = listLength(values, property);
  let first = 0;
  let second = 0;
  let run = 0;
  for (let i = 0; i < count; i++) {
    const value = values.next(property.type);
    if (value === -1) {
      run = 0;
      continue;
    }
    const index = vertexIndex(progress, value);
    if (run >= 2) {
      // Every other triangle of a strip turns the other way.
      const even = run % 2 === 0;
      corners[0] = even ? first : second;
      corners[1] = even ? second : first;
      corners[2] = index;
      progress.faces++;
      addFaceOf(progress, 3);
    }
    first = second;
    second = index;
    run++;
  }
}

function addFaceOf(progress: Progress, count: number): void {
  const done = addPolygon(progress.builder, progress.pool, progress.corners, count, 1);
  if (done === 'forced') progress.guessed++;
  if (done === 'dropped' && ++progress.dropped <= 5) progress.firstDropped.push(progress.faces);
}

function vertexIndex(progress: Progress, value: number): number {
  if (Number.isInteger(value) && value >= 0 && value < progress.pool.count) return value;
  throw progress.values.error(
    'ply-index',
    `${value} is no index of the ${progress.pool.count} vertices before it`,
  );
}

function listLength(values: PlyValues, property: PlyProperty): number {
  const count = property.countType === null ? 1 : values.next(property.countType);
  if (Number.isInteger(count) && count >= 0 && count * values.leastBytes(property.type) <= values.left())
    return count;
  throw values.error('ply-truncated', `a list of ${count} items does not fit into the file`);
}

function passOver(values: PlyValues, property: PlyProperty): void {
  for (let left = listLength(values, property); left > 0; left--) values.next(property.type);
}

function headerError(what: string): InputError {
  return new InputError('ply-header', what, 'Export the file again.', { line: 1 });
}
