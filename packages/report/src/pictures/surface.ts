import { faceNormals, pairEdges, type Mesh } from '@kinprint/mesh';
import { pictureDefaults } from './defaults.ts';

/** A mesh with what shading and lines need to know of it; the same for every camera. */
export interface Surface {
  readonly mesh: Mesh;
  /** Unit normals, 3 per face; 0, 0, 0 of faces without area. Turned outward where the mesh is inside out. */
  readonly normals: Float64Array;
  readonly areas: Float64Array;
  /** −1 where the enclosed volume is negative, so that corners run the wrong way round, else 1. */
  readonly outward: 1 | -1;
  /** 3·F: the directed edge that each one pairs with, −1 for none. */
  readonly twins: Int32Array;
  /** Faces around each vertex: `around[starts[v] … starts[v+1])`; null for a mesh with so many that each is a dot. */
  readonly fans: { readonly starts: Uint32Array; readonly around: Uint32Array } | null;
  /** Corner normals that were asked for, 9 numbers of each face. */
  readonly known: Map<number, Float64Array>;
}

export function surfaceOf(mesh: Mesh): Surface {
  const { normals, areas } = faceNormals(mesh);
  const outward = isInsideOut(mesh) ? -1 : 1;
  if (outward < 0) for (let k = 0; k < normals.length; k++) normals[k] = -normals[k];
  const smooth = mesh.triangles.length / 3 <= pictureDefaults.smoothFaces;
  return {
    mesh,
    normals,
    areas,
    outward,
    twins: pairEdges(mesh).twins,
    fans: smooth ? fansOf(mesh) : null,
    known: new Map(),
  };
}

/** Whether the signed volume, about a corner of the mesh, is negative. */
function isInsideOut({ positions: p, triangles: t }: Mesh): boolean {
  if (t.length === 0) return false;
  const o = 3 * t[0];
  const [ox, oy, oz] = [p[o], p[o + 1], p[o + 2]];
  let sum = 0;
  for (let k = 0; k < t.length; k += 3) {
    const [a, b, c] = [3 * t[k], 3 * t[k + 1], 3 * t[k + 2]];
    const [ax, ay, az] = [p[a] - ox, p[a + 1] - oy, p[a + 2] - oz];
    const [bx, by, bz] = [p[b] - ox, p[b + 1] - oy, p[b + 2] - oz];
    const [cx, cy, cz] = [p[c] - ox, p[c + 1] - oy, p[c + 2] - oz];
    const six = ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx);
    if (Number.isFinite(six)) sum += six;
  }
  return sum < 0;
}

function fansOf({ positions, triangles }: Mesh): { starts: Uint32Array; around: Uint32Array } {
  const starts = new Uint32Array(positions.length / 3 + 1);
  for (let k = 0; k < triangles.length; k++) starts[triangles[k] + 1]++;
  for (let v = 1; v < starts.length; v++) starts[v] += starts[v - 1];
  const next = starts.slice();
  const around = new Uint32Array(triangles.length);
  for (let k = 0; k < triangles.length; k++) around[next[triangles[k]]++] = (k / 3) | 0;
  return { starts, around };
}

/**
 * The normal of a face at one of its corners: that of all faces around the vertex that meet this one smoothly, each by
 * its area. Writes three numbers to `out` from `at`.
 */
export function cornerNormal(
  surface: Surface,
  face: number,
  corner: number,
  out: Float64Array,
  at: number,
): void {
  const { normals: n, areas, fans, mesh } = surface;
  const k = 3 * face;
  if (fans === null) {
    for (let c = 0; c < 3; c++) out[at + c] = n[k + c];
    return;
  }
  const v = mesh.triangles[k + corner];
  let [x, y, z] = [0, 0, 0];
  const end = Math.min(fans.starts[v + 1], fans.starts[v] + mostAround);
  for (let i = fans.starts[v]; i < end; i++) {
    const g = fans.around[i];
    const j = 3 * g;
    if (n[k] * n[j] + n[k + 1] * n[j + 1] + n[k + 2] * n[j + 2] < pictureDefaults.creaseCosine) continue;
    x += areas[g] * n[j];
    y += areas[g] * n[j + 1];
    z += areas[g] * n[j + 2];
  }
  const length = Math.sqrt(x * x + y * y + z * z);
  const given = length > 0 && length < Infinity;
  out[at] = given ? x / length : n[k];
  out[at + 1] = given ? y / length : n[k + 1];
  out[at + 2] = given ? z / length : n[k + 2];
}

/** The normals of a face at its three corners, 9 numbers; see `cornerNormal`. */
export function cornerNormals(surface: Surface, face: number): Float64Array {
  const known = surface.known.get(face);
  if (known !== undefined) return known;
  const made = new Float64Array(9);
  for (let corner = 0; corner < 3; corner++) cornerNormal(surface, face, corner, made, 3 * corner);
  surface.known.set(face, made);
  return made;
}

/** A hub of very many faces is not worth more. */
const mostAround = 64;
