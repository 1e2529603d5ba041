import type { ByteSource } from '../bytes.ts';
import type { MeshFile, Unit } from '../types.ts';
import { kindOf } from './kind.ts';
import { readObj } from './obj.ts';
import { readPly } from './ply.ts';
import { readStlAscii } from './stl-ascii.ts';
import { readStlBinary } from './stl-binary.ts';
import { facetsToRead } from './stl-binary-size.ts';
import { readThreeMf } from './three-mf/three-mf.ts';
import { unitFor, inMillimeters } from './units.ts';
import { suspectUnit } from './unit-suspect.ts';

/** What the caller knows about a file better than the file does. */
export interface ReadOptions {
  /** Read the numbers as this unit, whatever the file says. */
  readonly unit?: Unit;
}

/**
 * Reads a mesh file: STL (binary, text), 3MF, OBJ or PLY (text, binary). Its kind is decided by its content, never
 * by its name.
 *
 * The result is in millimeters, every object welded exactly. Only 3MF states a unit; elsewhere millimeters are
 * assumed, and a size that suggests another unit is noted. Binary STL is welded while it streams by, so a source
 * over a file needs memory for the result only; 3MF, too, is unpacked as a stream.
 *
 * @throws {InputError} when the file is none of the kinds known, is damaged or cannot be used; with the place and
 * what to do. Nothing else is thrown, whatever the bytes, unless the source itself throws.
 */
export function readMesh(source: ByteSource, options: ReadOptions = {}): MeshFile {
  const file = readKind(source, options);
  return { ...file, notes: [...file.notes, ...suspectUnit(file)] };
}

function readKind(source: ByteSource, options: ReadOptions): MeshFile {
  const kind = kindOf(source);
  if (kind === '3mf') return readThreeMf(source, options.unit);
  const stated = unitFor(null, options.unit);
  const { unit } = stated;
  switch (kind) {
    case 'stl-binary': {
      const { facets, notes } = facetsToRead(source);
      const read = readStlBinary(source, facets);
      const objects = [{ name: null, mesh: inMillimeters(read.mesh, unit) }];
      return { format: kind, ...stated, objects, notes: [...notes, ...read.notes] };
    }
    case 'stl-ascii':
      return { format: kind, ...stated, ...readStlAscii(source, unit) };
    case 'obj':
      return { format: kind, ...stated, ...readObj(source, unit) };
    case 'ply':
      return { ...stated, ...readPly(source, unit) };
  }
}
