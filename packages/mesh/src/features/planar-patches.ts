import type { Mesh } from '../types.ts';
import type { FaceNormals } from '../face-normals.ts';

/** Connected faces that lie in one plane. Lists are concatenated: patch i holds `faces[starts[i]] … faces[starts[i + 1] − 1]`. */
export interface PlanarPatches {
  readonly count: number;
  /** Patch of every face; −1 for faces without area that touch none. */
  readonly patchOf: Int32Array;
  readonly starts: Int32Array;
  readonly faces: Int32Array;
  /** Unit normals (area-weighted mean), 3 per patch. */
  readonly normals: Float64Array;
  readonly areas: Float64Array;
}

export interface PlanarTolerance {
  /** Distance of a vertex from the plane, mm. */
  readonly distance: number;
  /** Angle between normals of faces that are wide enough to have a trustworthy one, radians. */
  readonly angle: number;
}

/**
 * Region growing over edges, largest faces first. A face joins when its far corner lies on the patch's plane and its
 * normal agrees; a face so narrow that rounding alone can tilt it is judged by its corner.
 */
export function planarPatches(
  mesh: Mesh,
  neighbors: Int32Array,
  { normals, areas }: FaceNormals,
  tolerance: PlanarTolerance,
): PlanarPatches {
  const { positions: p, triangles: t } = mesh;
  const faceCount = areas.length;
  const patchOf = new Int32Array(faceCount).fill(-1);
  const faces = new Int32Array(faceCount);
  const starts: number[] = [];
  const patchNormals: number[] = [];
  const patchAreas: number[] = [];
  const cosTight = Math.cos(tolerance.angle);
  let end = 0;

  for (const seed of largestFirst(areas)) {
    if (patchOf[seed] >= 0 || areas[seed] === 0) continue;
    const patch = starts.length;
    const first = end;
    starts.push(first);
    patchOf[seed] = patch;
    faces[end++] = seed;
    let nx = normals[3 * seed];
    let ny = normals[3 * seed + 1];
    let nz = normals[3 * seed + 2];
    let at = 3 * t[3 * seed];
    let level = nx * p[at] + ny * p[at + 1] + nz * p[at + 2];
    let sx = nx * areas[seed];
    let sy = ny * areas[seed];
    let sz = nz * areas[seed];
    let area = areas[seed];
    let levels = 3 * level * area;
    let refitAt = 4;
    for (let head = first; head < end; head++) {
      const f = faces[head];
      for (let k = 0; k < 3; k++) {
        const g = neighbors[3 * f + k];
        if (g < 0 || patchOf[g] >= 0) continue;
        const agree = nx * normals[3 * g] + ny * normals[3 * g + 1] + nz * normals[3 * g + 2];
        if (agree < cosTight && !narrowEnough(mesh, g, areas[g], agree, tolerance)) continue;
        at = 3 * farCorner(t, g, t[3 * f + k], t[3 * f + ((k + 1) % 3)]);
        const height = nx * p[at] + ny * p[at + 1] + nz * p[at + 2] - level;
        if (!(Math.abs(height) <= tolerance.distance)) continue;
        patchOf[g] = patch;
        faces[end++] = g;
        sx += normals[3 * g] * areas[g];
        sy += normals[3 * g + 1] * areas[g];
        sz += normals[3 * g + 2] * areas[g];
        area += areas[g];
        levels += areas[g] * cornerSum(p, t, g, nx, ny, nz);
        if (end - first < refitAt) continue;
        refitAt *= 2;
        const length = Math.hypot(sx, sy, sz);
        nx = sx / length;
        ny = sy / length;
        nz = sz / length;
        levels = 0;
        for (let i = first; i < end; i++) levels += areas[faces[i]] * cornerSum(p, t, faces[i], nx, ny, nz);
        level = levels / (3 * area);
      }
    }
    const length = Math.hypot(sx, sy, sz);
    patchNormals.push(sx / length, sy / length, sz / length);
    patchAreas.push(area);
  }
  starts.push(end);
  return {
    count: patchAreas.length,
    patchOf,
    starts: Int32Array.from(starts),
    faces: faces.subarray(0, end),
    normals: Float64Array.from(patchNormals),
    areas: Float64Array.from(patchAreas),
  };
}

function cornerSum(
  p: Mesh['positions'],
  t: Uint32Array,
  f: number,
  nx: number,
  ny: number,
  nz: number,
): number {
  let sum = 0;
  for (let k = 0; k < 3; k++) {
    const at = 3 * t[3 * f + k];
    sum += nx * p[at] + ny * p[at + 1] + nz * p[at + 2];
  }
  return sum;
}

/** The corner of face f that is neither a nor b. */
export function farCorner(t: Uint32Array, f: number, a: number, b: number): number {
  for (let k = 0; k < 3; k++) {
    const v = t[3 * f + k];
    if (v !== a && v !== b) return v;
  }
  return a;
}

/** True when a move of the corners within the tolerance explains the tilt of the normal. */
function narrowEnough(
  mesh: Mesh,
  f: number,
  area: number,
  agree: number,
  tolerance: PlanarTolerance,
): boolean {
  const { positions: p, triangles: t } = mesh;
  let longest = 0;
  for (let k = 0; k < 3; k++) {
    const a = 3 * t[3 * f + k];
    const b = 3 * t[3 * f + ((k + 1) % 3)];
    longest = Math.max(longest, Math.hypot(p[a] - p[b], p[a + 1] - p[b + 1], p[a + 2] - p[b + 2]));
  }
  const height = longest > 0 ? (2 * area) / longest : 0;
  if (height <= tolerance.distance) return true;
  // Beyond 0.3 rad a narrow face is taken for a real one.
  return agree >= Math.cos(Math.min(0.3, tolerance.angle + (2 * tolerance.distance) / height));
}

/** Faces by falling area, in classes of a factor 2 (a counting sort over the exponent). */
function largestFirst(areas: Float64Array): Int32Array {
  const classes = 2200;
  const classOf = (area: number): number =>
    area > 0 ? Math.min(classes - 2, Math.max(0, 1100 - Math.floor(Math.log2(area)))) : classes - 1;
  const starts = new Int32Array(classes + 1);
  const klass = new Int16Array(areas.length);
  for (let f = 0; f < areas.length; f++) {
    klass[f] = classOf(areas[f]);
    starts[klass[f] + 1]++;
  }
  for (let c = 0; c < classes; c++) starts[c + 1] += starts[c];
  const order = new Int32Array(areas.length);
  for (let f = 0; f < areas.length; f++) order[starts[klass[f]]++] = f;
  return order;
}
