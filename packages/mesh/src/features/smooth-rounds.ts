import { symmetricEigen } from '../mass/symmetric-eigen.ts';
import type { Mesh, Vec3 } from '../types.ts';
import { fitCylinder, roughly, type CylinderFit } from './cylinder-fit.ts';
import type { FaceNormals } from '../face-normals.ts';
import { coordinatesOf, type RoundRegion } from './round-region.ts';
import { systematicShare } from './systematic-share.ts';

export interface SmoothOptions {
  /** What counts as exact, mm. */
  readonly distance: number;
  readonly maxRadius: number;
  /** Largest root mean square residual, as a share of the radius. */
  readonly maxNoise: number;
}

/** Sizes of the neighborhoods looked at, faces: coarse skewed strips, fine surfaces, fine and noisy ones. */
const neighborhoods = [16, 120, 900];
/** Edges that bend more than 40° end a neighborhood. */
const cosSharp = Math.cos((40 * Math.PI) / 180);
/** Normals of a cylinder lie on a great circle: least over middle eigenvalue of their scatter stays below this. */
const flatScatter = 0.25;
/** Least middle eigenvalue (share of all): normals must turn by about ±5° before curvature is believed. */
const leastBend = 0.0025;

interface Work {
  readonly mesh: Mesh;
  readonly neighbors: Int32Array;
  readonly faces: FaceNormals;
  readonly options: SmoothOptions;
  /** 1 where a face may still join a region. */
  readonly free: Uint8Array;
  /** Number of the walk that last saw a face. */
  readonly seen: Int32Array;
  walk: number;
  /** The same for vertices. */
  readonly vertexSeen: Int32Array;
  vertexWalk: number;
}

/**
 * Cylinders in surfaces whose triangles are no flat strips: scans, remeshed parts, strips with skewed ends. Patches
 * of several sizes tile the free surface; where their normals lie on a great circle a cylinder is fitted, grown over
 * the faces near it, and fitted again until it grows no more. Each face is looked at once per size.
 *
 * @param free 1 where a face may join; faces that were used are cleared
 */
export function smoothRounds(
  mesh: Mesh,
  neighbors: Int32Array,
  faces: FaceNormals,
  free: Uint8Array,
  options: SmoothOptions,
): RoundRegion[] {
  const faceCount = free.length;
  const work: Work = {
    mesh,
    neighbors,
    faces,
    options,
    free,
    seen: new Int32Array(faceCount),
    walk: 0,
    vertexSeen: new Int32Array(mesh.positions.length / 3),
    vertexWalk: 0,
  };
  const regions: RoundRegion[] = [];
  const looked = new Uint8Array(faceCount);
  for (const size of neighborhoods) {
    looked.fill(0);
    for (let seed = 0; seed < faceCount; seed++) {
      if (free[seed] === 0 || looked[seed] === 1) continue;
      const patch = neighborhood(work, seed, size, looked);
      if (patch === null) continue;
      const region = regionFrom(work, patch.faces, patch.axis, looked);
      if (region === null) continue;
      for (const f of region.faces) free[f] = 0;
      regions.push(region);
    }
  }
  return regions;
}

/** Faces around a seed, when their normals look like a cylinder's. Marks them as looked at. */
function neighborhood(
  work: Work,
  seed: number,
  size: number,
  looked: Uint8Array,
): { readonly faces: number[]; readonly axis: Vec3 } | null {
  const { neighbors, free, seen } = work;
  const { normals, areas } = work.faces;
  const walk = ++work.walk;
  const found = [seed];
  seen[seed] = walk;
  let xx = 0;
  let xy = 0;
  let xz = 0;
  let yy = 0;
  let yz = 0;
  let zz = 0;
  let total = 0;
  for (let head = 0; head < found.length; head++) {
    const f = found[head];
    looked[f] = 1;
    const nx = normals[3 * f];
    const ny = normals[3 * f + 1];
    const nz = normals[3 * f + 2];
    const w = areas[f];
    xx += w * nx * nx;
    xy += w * nx * ny;
    xz += w * nx * nz;
    yy += w * ny * ny;
    yz += w * ny * nz;
    zz += w * nz * nz;
    total += w;
    for (let k = 0; k < 3 && found.length < size; k++) {
      const g = neighbors[3 * f + k];
      if (g < 0 || seen[g] === walk || free[g] === 0) continue;
      if (nx * normals[3 * g] + ny * normals[3 * g + 1] + nz * normals[3 * g + 2] < cosSharp) continue;
      seen[g] = walk;
      found.push(g);
    }
  }
  if (found.length < 10 || !(total > 0)) return null;
  const { values, vectors } = symmetricEigen([
    [xx, xy, xz],
    [xy, yy, yz],
    [xz, yz, zz],
  ]);
  if (values[1] < leastBend * total || values[0] > flatScatter * values[1]) return null;
  return { faces: found, axis: vectors[0] };
}

function regionFrom(
  work: Work,
  patch: readonly number[],
  axis: Vec3,
  looked: Uint8Array,
): RoundRegion | null {
  const { mesh, options } = work;
  let points = coordinatesOf(mesh.positions, verticesOf(work, patch, 80));
  const first = fitCylinder(points, axis, roughly);
  if (first === null || !acceptable(first, options) || isOtherShape(points, first, options)) return null;
  let fit: CylinderFit = first;
  const tolerance = Math.min(0.03 * fit.radius, Math.max(4 * options.distance, 4 * fit.rms));
  const sense = senseOf(work, patch, fit);
  if (sense === 0) return null;
  let faces: readonly number[] = patch;
  for (let round = 0; round < 12; round++) {
    const grown = grow(work, patch, fit, sense, tolerance, 4 * faces.length);
    if (grown.length < 10) return null;
    points = coordinatesOf(mesh.positions, verticesOf(work, grown, 600));
    const settled = Math.abs(grown.length - faces.length) <= 0.01 * faces.length && round > 0;
    const again: CylinderFit | null = settled
      ? fitCylinder(points, fit.axis)
      : fitCylinder(points, fit.axis, roughly);
    faces = grown;
    if (again === null || !acceptable(again, options) || isOtherShape(points, again, options)) {
      // No better hope for the patches inside what was covered in vain.
      for (const f of grown) looked[f] = 1;
      return null;
    }
    fit = again;
    if (settled) break;
  }
  if (faces.length < 0.8 * patch.length) return null;
  const vertices = verticesOf(work, faces, Infinity).sort((a, b) => a - b);
  return {
    sense,
    cylinder: { axis: fit.axis, point: fit.point, radius: fit.radius },
    faces,
    vertices,
    rms: fit.rms,
    max: fit.max,
    spans: [],
  };
}

/** A cone, a barrel or a bent tube also fits within the noise over a short length, but its misfit has a shape. */
function isOtherShape(points: Float64Array, fit: CylinderFit, options: SmoothOptions): boolean {
  return fit.max > 8 * options.distance && systematicShare(points, fit) > 0.5;
}

function acceptable(fit: CylinderFit, options: SmoothOptions): boolean {
  return fit.rms <= options.maxNoise * fit.radius && fit.radius <= options.maxRadius;
}

/** Which way the normals look; 0 when they disagree. */
function senseOf(work: Work, patch: readonly number[], fit: CylinderFit): 1 | -1 | 0 {
  let outward = 0;
  let total = 0;
  for (const f of patch) {
    const area = work.faces.areas[f];
    total += area;
    if (radialNormal(work, f, fit) > 0) outward += area;
  }
  if (outward > 0.95 * total) return 1;
  return outward < 0.05 * total ? -1 : 0;
}

/** Cosine between a face's normal and the direction from the axis to its middle. */
function radialNormal(work: Work, f: number, fit: CylinderFit): number {
  const { positions: p, triangles: t } = work.mesh;
  const { normals } = work.faces;
  const { axis, point } = fit;
  let x = -point[0];
  let y = -point[1];
  let z = -point[2];
  for (let k = 0; k < 3; k++) {
    const at = 3 * t[3 * f + k];
    x += p[at] / 3;
    y += p[at + 1] / 3;
    z += p[at + 2] / 3;
  }
  const h = x * axis[0] + y * axis[1] + z * axis[2];
  x -= h * axis[0];
  y -= h * axis[1];
  z -= h * axis[2];
  const length = Math.sqrt(x * x + y * y + z * z);
  return length > 0 ? (x * normals[3 * f] + y * normals[3 * f + 1] + z * normals[3 * f + 2]) / length : 0;
}

/** Faces connected to the patch that lie on the cylinder within the tolerance and look the right way. */
function grow(
  work: Work,
  patch: readonly number[],
  fit: CylinderFit,
  sense: 1 | -1,
  tolerance: number,
  limit: number,
): number[] {
  const { neighbors, seen, free } = work;
  const { positions: p, triangles: t } = work.mesh;
  const { normals } = work.faces;
  const { axis, point, radius } = fit;
  const walk = ++work.walk;
  const low = Math.max(0, radius - tolerance) ** 2;
  const high = (radius + tolerance) ** 2;
  const found: number[] = [];
  const fits = (f: number): boolean => {
    for (let k = 0; k < 3; k++) {
      const at = 3 * t[3 * f + k];
      const x = p[at] - point[0];
      const y = p[at + 1] - point[1];
      const z = p[at + 2] - point[2];
      const cx = y * axis[2] - z * axis[1];
      const cy = z * axis[0] - x * axis[2];
      const cz = x * axis[1] - y * axis[0];
      const d = cx * cx + cy * cy + cz * cz;
      if (!(d >= low && d <= high)) return false;
    }
    const along = normals[3 * f] * axis[0] + normals[3 * f + 1] * axis[1] + normals[3 * f + 2] * axis[2];
    return Math.abs(along) < 0.5 && sense * radialNormal(work, f, fit) > 0.6;
  };
  for (const f of patch) {
    seen[f] = walk;
    if (fits(f)) found.push(f);
  }
  for (let head = 0; head < found.length && found.length < limit; head++) {
    for (let k = 0; k < 3; k++) {
      const g = neighbors[3 * found[head] + k];
      if (g < 0 || seen[g] === walk || free[g] === 0) continue;
      seen[g] = walk;
      if (fits(g)) found.push(g);
    }
  }
  return found;
}

/** Distinct vertices of some faces, thinned evenly to about `most`. */
function verticesOf(work: Work, faces: readonly number[], most: number): number[] {
  const { triangles: t } = work.mesh;
  const step = Math.max(1, Math.floor((faces.length * 1.5) / most));
  const walk = ++work.vertexWalk;
  const vertices: number[] = [];
  for (let i = 0; i < faces.length; i += step) {
    for (let k = 0; k < 3; k++) {
      const vertex = t[3 * faces[i] + k];
      if (work.vertexSeen[vertex] === walk) continue;
      work.vertexSeen[vertex] = walk;
      vertices.push(vertex);
    }
  }
  return vertices;
}
