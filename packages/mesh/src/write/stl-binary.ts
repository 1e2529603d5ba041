import { InputError } from '../error.ts';
import type { Mesh } from '../types.ts';

/**
 * A mesh as the bytes of a binary STL file, in millimeters: 84 + 50·F bytes.
 *
 * Coordinates are rounded to 32-bit floats; normals are those of the rounded corners, zero for faces without
 * area; attribute bytes are 0. The same mesh gives the same bytes everywhere.
 *
 * @param header up to 80 ASCII characters; may not begin with `solid`, which many readers take for text.
 * @throws {InputError} `stl-header` for another header, `stl-range` for a coordinate beyond 32-bit floats.
 *
 * Layout: StereoLithography interface description, 1989.
 */
export function writeStlBinary(mesh: Mesh, header = 'binary STL, millimeters'): Uint8Array<ArrayBuffer> {
  if (!/^[\x20-\x7e]{0,80}$/.test(header) || /^\s*solid/i.test(header)) {
    throw new InputError(
      'stl-header',
      'the header is longer than 80 characters, not plain ASCII, or begins with "solid"',
      'Choose another header.',
    );
  }
  const { triangles } = mesh;
  const points = mesh.positions instanceof Float32Array ? mesh.positions : Float32Array.from(mesh.positions);
  const facets = triangles.length / 3;
  const bytes = new Uint8Array(84 + 50 * facets);
  for (let i = 0; i < header.length; i++) bytes[i] = header.charCodeAt(i);
  const view = new DataView(bytes.buffer);
  view.setUint32(80, facets, true);
  const normal = new Float64Array(3);
  for (let face = 0; face < facets; face++) {
    const at = 84 + 50 * face;
    unitNormal(points, triangles, face, normal);
    for (let k = 0; k < 3; k++) view.setFloat32(at + 4 * k, normal[k], true);
    for (let corner = 0; corner < 3; corner++) {
      const vertex = 3 * triangles[3 * face + corner];
      for (let k = 0; k < 3; k++) {
        const value = points[vertex + k];
        if (!Number.isFinite(value)) throw outOfRange(face);
        view.setFloat32(at + 12 + 12 * corner + 4 * k, value, true);
      }
    }
  }
  return bytes;
}

function unitNormal(points: Float32Array, triangles: Uint32Array, face: number, into: Float64Array): void {
  const a = 3 * triangles[3 * face];
  const b = 3 * triangles[3 * face + 1];
  const c = 3 * triangles[3 * face + 2];
  const ux = points[b] - points[a];
  const uy = points[b + 1] - points[a + 1];
  const uz = points[b + 2] - points[a + 2];
  const vx = points[c] - points[a];
  const vy = points[c + 1] - points[a + 1];
  const vz = points[c + 2] - points[a + 2];
  const x = uy * vz - uz * vy;
  const y = uz * vx - ux * vz;
  const z = ux * vy - uy * vx;
  const length = Math.sqrt(x * x + y * y + z * z);
  const scale = length > 0 ? 1 / length : 0;
  into[0] = x * scale;
  into[1] = y * scale;
  into[2] = z * scale;
}

function outOfRange(face: number): InputError {
  return new InputError(
    'stl-range',
    'a coordinate is not a finite 32-bit float',
    'Write the mesh in another format, or scale it first.',
    { facet: face + 1 },
  );
}
