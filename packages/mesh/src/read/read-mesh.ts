import type { ByteSource } from '../bytes.ts';
import { InputError } from '../error.ts';
import type { MeshFile, Unit } from '../types.ts';
import { readStlBinary } from './stl-binary.ts';
import { facetsToRead, sizeFitsCount } from './stl-binary-size.ts';
import { inMillimeters, unitFor } from './units.ts';

/** What the caller knows about a file better than the file does. */
export interface ReadOptions {
  /** Read the numbers as this unit, whatever the file says. */
  readonly unit?: Unit;
}

/**
 * Reads a mesh file; its kind is decided by its content, never by its name.
 *
 * @throws {InputError} when it is none of the kinds known, or cannot be used.
 */
export function readMesh(source: ByteSource, options: ReadOptions = {}): MeshFile {
  const { unit, unitAssumed } = unitFor(null, options.unit);
  if (!sizeFitsCount(source) && source.size < 84) {
    throw new InputError('unknown-kind', 'this is not a mesh file', 'Export it as STL, 3MF, OBJ or PLY.');
  }
  const { facets, notes } = facetsToRead(source);
  const read = readStlBinary(source, facets);
  return {
    format: 'stl-binary',
    unit,
    unitAssumed,
    objects: [{ name: null, mesh: inMillimeters(read.mesh, unit) }],
    notes: [...notes, ...read.notes],
  };
}
