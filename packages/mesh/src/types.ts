/** A point or direction in millimeters, right-handed axes. */
export type Vec3 = readonly [number, number, number];

/** A 3×3 matrix, rows first. */
export type Mat3 = readonly [Vec3, Vec3, Vec3];

/**
 * A triangle mesh as plain data.
 *
 * `positions` holds 3·V coordinates in millimeters (x, y, z of vertex 0, of vertex 1, …); `triangles` holds
 * 3·F vertex indices, counter-clockwise seen from outside. Binary STL keeps its 32-bit floats, everything else
 * is kept in double precision. A mesh that a reader returns is welded exactly: no two vertices share all three
 * coordinates bit for bit (−0 counts as 0). Faces are kept in file order, degenerate ones included.
 */
export interface Mesh {
  readonly positions: Float32Array | Float64Array;
  readonly triangles: Uint32Array;
}

/** Box with edges along the axes. */
export interface Bounds {
  readonly min: Vec3;
  readonly max: Vec3;
}

/** A remark that belongs to a result: what was assumed, what is missing and why. */
export interface Note {
  /** Closed set of codes, kebab-case, e.g. `unit-assumed`, `no-volume-open`. */
  readonly code: string;
  /** One sentence for a person. */
  readonly text: string;
  /** The result key that the note explains, e.g. `volume_mm3`. */
  readonly about?: string;
}

export type Format = 'stl-binary' | 'stl-ascii' | '3mf' | 'obj' | 'ply-ascii' | 'ply-binary';
export type Unit = 'micron' | 'millimeter' | 'centimeter' | 'inch' | 'foot' | 'meter';

/** One object of a mesh file, placed where the file places it, in millimeters. */
export interface MeshObject {
  /** The object's name in the file, or null. */
  readonly name: string | null;
  readonly mesh: Mesh;
}

/** What a reader returns. */
export interface MeshFile {
  readonly format: Format;
  /** The unit the numbers in the file were read as; `mesh` itself is always in millimeters. */
  readonly unit: Unit;
  /** True when the file states no unit and none was asked for. */
  readonly unitAssumed: boolean;
  readonly objects: readonly MeshObject[];
  readonly notes: readonly Note[];
}
