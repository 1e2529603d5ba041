import type { Mesh } from '@kinprint/mesh';
import { drawable } from '../pictures/camera.ts';
import type { Lattice } from './lattice.ts';
import type { NumberReader, NumberWriter } from './varint.ts';

/** How much of a mesh was written. */
export interface CodedMesh {
  readonly vertices: number;
  readonly triangles: number;
  /** Faces with a corner that is no place in space. */
  readonly left_out: number;
}

/**
 * Writes a mesh on a lattice. Vertices come in the order in which faces use them, which makes both the steps from one to
 * the next and the distance of an index from the newest one small; vertices that no face uses are left out.
 */
export function encodeMesh(mesh: Mesh, { step_mm, origin_mm }: Lattice, out: NumberWriter): CodedMesh {
  const { positions: p, triangles: t } = mesh;
  const given = (v: number): boolean => drawable(p[3 * v], p[3 * v + 1], p[3 * v + 2]);
  const number = new Int32Array(p.length / 3).fill(-1);
  const used: number[] = [];
  let left_out = 0;
  const indices = new Uint32Array(t.length);
  let kept = 0;
  for (let k = 0; k + 2 < t.length; k += 3) {
    if (!(given(t[k]) && given(t[k + 1]) && given(t[k + 2]))) {
      left_out++;
      continue;
    }
    for (let c = 0; c < 3; c++) {
      const v = t[k + c];
      if (number[v] < 0) {
        number[v] = used.length;
        used.push(v);
      }
      indices[kept++] = number[v];
    }
  }
  for (let axis = 0; axis < 3; axis++) {
    let last = 0;
    for (const v of used) {
      const place = Math.round((p[3 * v + axis] - origin_mm[axis]) / step_mm);
      out.signed(place - last);
      last = place;
    }
  }
  let newest = 0;
  for (let k = 0; k < kept; k++) {
    out.unsigned(newest - indices[k]);
    if (indices[k] === newest) newest++;
  }
  return { vertices: used.length, triangles: kept / 3, left_out };
}

/** @throws Error where the numbers are not those of a mesh of that size */
export function decodeMesh(size: CodedMesh, { step_mm, origin_mm }: Lattice, numbers: NumberReader): Mesh {
  const positions = new Float64Array(3 * size.vertices);
  for (let axis = 0; axis < 3; axis++) {
    let place = 0;
    for (let v = 0; v < size.vertices; v++) {
      place += numbers.signed();
      positions[3 * v + axis] = origin_mm[axis] + place * step_mm;
    }
  }
  const triangles = new Uint32Array(3 * size.triangles);
  let newest = 0;
  for (let k = 0; k < triangles.length; k++) {
    const index = newest - numbers.unsigned();
    if (index < 0 || index >= size.vertices) throw new Error('A face of the geometry has no such corner.');
    triangles[k] = index;
    if (index === newest) newest++;
  }
  return { positions, triangles };
}
