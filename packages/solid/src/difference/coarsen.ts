import { createFloat64Welder, subMesh, weldFloat64, type Mesh } from '@kinprint/mesh';
import type { Body } from '../body.ts';
import { defaults } from '../defaults.ts';
import { findShells } from '../shells.ts';
import { distanceToHull, faceDistanceToHull, hullsOf, type Hull, type Unshared } from './hulls.ts';
import { spacing } from './match-vertices.ts';

/** Two meshes of which what both share is coarse. */
export interface Coarse {
  readonly sides: readonly CoarseSide[];
  /** Where the two differ, and where they are as they were. */
  readonly hulls: readonly Hull[];
  /** No vertex that moved is as close to a hull as this. */
  readonly clear_mm: number;
}

export interface CoarseSide {
  readonly mesh: Mesh;
  /** Per face its number in the mesh as given. */
  readonly faceOf: Uint32Array;
  /** Per vertex of the mesh as given the one it moved to. */
  readonly keeper: Uint32Array;
}

/** Another mesh of the same faces made coarse alike. */
export function coarseLike({ faceOf, keeper }: CoarseSide, { positions, triangles }: Mesh): Mesh {
  return subMesh({ positions, triangles: triangles.map(v => keeper[v]) }, faceOf);
}

/**
 * Makes what two closed surfaces share coarse, the more the farther it is from what they do not share, so that a
 * boolean has little to do. Null when that would not help. Bodies and hulls stay as they are, to the last bit, where
 * the two differ.
 *
 * Far vertices move to one of those in their cell; cells are as wide as a share of their distance from the hulls
 * around unmatched faces. That keeps the surfaces closed; a face whose corners fall together vanishes. No point of any face
 * comes to a hull on its way, so how often the surface winds around a point within a hull stays the same, and in both
 * meshes alike. Outside, both wind alike anyway, though perhaps twice or not at all where coarse faces cross: what a
 * difference shows there means nothing.
 *
 * Both must share vertices bit for bit where faces match. `tolerance_mm`: coarse faces stay farther off than that.
 */
export function coarsenShared(sides: readonly Unshared[], tolerance_mm: number): Coarse | null {
  const total = sides.reduce((sum, { unmatched }) => sum + unmatched.length, 0);
  const unshared = sides.reduce((sum, { unmatched }) => sum + unmatched.reduce((n, flag) => n + flag, 0), 0);
  if (unshared > defaults.coarsenBelowShare * total) return null;
  const hulls = hullsOf(sides, defaults.maxHulls);
  if (hulls === null || hulls.length === 0) return null;
  // The same for both, or they would not move alike.
  const least = leastCell(sides, tolerance_mm);
  if (!(least > 0)) return null;
  const coarse = sides.map(side => coarsened(side, hulls, least));
  const left = coarse.reduce((sum, { faceOf }) => sum + faceOf.length, 0);
  if (left > defaults.coarsenedShare * total) return null;
  return { sides: coarse, hulls, clear_mm: (1 - Math.sqrt(3) * cellShare) * (least / cellShare) };
}

/**
 * A body made coarse, the more the farther it is from some places. Whether a point in the hull of a place is within it
 * stays as it was; so does, therefore, what it has in common with a solid there.
 *
 * The body as it is where its shells may overlap, or where that would not help. `tolerance_mm` as with `coarsenShared`.
 */
export function coarseAround(body: Body, places: readonly Mesh[], tolerance_mm: number): Body {
  if (body.groupOf !== null || body.mesh.triangles.length / 3 < defaults.wholeBelowFaces) return body;
  const hulls = hullsOf(
    places.map(mesh => ({ mesh, unmatched: flags(mesh, 1) })),
    defaults.maxHulls,
  );
  if (hulls === null || hulls.length === 0) return body;
  const side = { mesh: body.mesh, unmatched: flags(body.mesh, 0) };
  const least = leastCell([side], tolerance_mm);
  return least > 0 ? { ...body, mesh: coarsened(side, hulls, least).mesh } : body;
}

function flags({ triangles }: Mesh, value: 0 | 1): Uint8Array {
  return new Uint8Array(triangles.length / 3).fill(value);
}

/**
 * The pieces of a difference that mean something: those within the hulls. Null when one lies within and beyond: where
 * coarse sheets cross, the kernel may hang what it leaves of them on a piece, by films along what both share.
 *
 * @param rim_mm how far out of a hull a vertex may be and still lie within; by default far more than rounding, far less
 *   than any coarse face is off
 */
export function withinHulls(
  mesh: Mesh,
  { hulls, clear_mm }: Coarse,
  rim_mm: number = clear_mm / 100,
): Mesh | null {
  const { positions, triangles } = mesh;
  const near = Uint8Array.from({ length: positions.length / 3 }, (_, v) =>
    hulls.some(hull => distanceToHull(hull, positions, 3 * v) < rim_mm) ? 1 : 0,
  );
  const { count, shellOf } = findShells(mesh);
  const inside = new Uint8Array(count);
  const beyond = new Uint8Array(count);
  for (let i = 0; i < triangles.length; i++) {
    const shell = shellOf[Math.floor(i / 3)];
    if (near[triangles[i]] === 1) inside[shell] = 1;
    else beyond[shell] = 1;
  }
  if (inside.some((flag, shell) => (flag & beyond[shell]) === 1)) return null;
  if (!beyond.includes(1)) return mesh;
  const faces = [...shellOf.keys()].filter(f => inside[shellOf[f]] === 1);
  return subMesh(mesh, faces);
}

/** Width of a cell, in distances from the hulls: a vertex moves by at most √3 times this share of its distance. */
const cellShare = 0.4;

/** Smaller cells than the usual distance of vertices join nothing, and would only move what may stay. */
function leastCell(sides: readonly Unshared[], tolerance_mm: number): number {
  const apart = Math.max(...sides.map(({ mesh }) => spacing(mesh.positions)));
  return 2 ** Math.ceil(Math.log2(Math.max(apart, 4 * tolerance_mm)));
}

function coarsened({ mesh, unmatched }: Unshared, hulls: readonly Hull[], least: number): CoarseSide {
  const { positions, triangles } = mesh;
  const keeper = keepers(positions, clearOf(mesh, unmatched, hulls), least);
  const faces: number[] = [];
  const corners = new Uint32Array(triangles.length);
  for (let f = 0; f < unmatched.length; f++) {
    const [a, b, c] = [keeper[triangles[3 * f]], keeper[triangles[3 * f + 1]], keeper[triangles[3 * f + 2]]];
    if (a === b || b === c || c === a) continue;
    corners.set([a, b, c], 3 * f);
    faces.push(f);
  }
  return { mesh: subMesh({ positions, triangles: corners }, faces), faceOf: Uint32Array.from(faces), keeper };
}

/**
 * Per vertex the one it moves to: of those in its cell the first by place, whatever their numbers. Cells are as wide
 * as a share of the distance from the hulls, rounded down to a power of two; one narrower than `least` is left alone.
 */
function keepers(positions: Mesh['positions'], distance: Float64Array, least: number): Uint32Array {
  const keeper = new Uint32Array(distance.length).map((_, v) => v);
  const cells = createFloat64Welder(1024);
  const first: number[] = [];
  const cellOf = new Int32Array(distance.length).fill(-1);
  for (let v = 0; v < keeper.length; v++) {
    const room = cellShare * distance[v];
    if (!(room >= least && room < Infinity)) continue;
    const width = 2 ** Math.floor(Math.log2(room));
    // Odd multiples of half the width: cells of other widths have other middles.
    const cell = weldFloat64(
      cells,
      (Math.floor(positions[3 * v] / width) + 0.5) * width,
      (Math.floor(positions[3 * v + 1] / width) + 0.5) * width,
      (Math.floor(positions[3 * v + 2] / width) + 0.5) * width,
    );
    cellOf[v] = cell;
    if (cell === first.length) first.push(v);
    else if (comesFirst(positions, v, first[cell])) first[cell] = v;
  }
  for (let v = 0; v < keeper.length; v++) if (cellOf[v] >= 0) keeper[v] = first[cellOf[v]];
  return keeper;
}

/** Per vertex how far all its faces are outside every hull, at least; 0 where one is not or is unmatched. */
function clearOf(
  { positions, triangles }: Mesh,
  unmatched: Uint8Array,
  hulls: readonly Hull[],
): Float64Array {
  const clear = new Float64Array(positions.length / 3).fill(Infinity);
  const own = new Float64Array(positions.length / 3);
  for (const hull of hulls) {
    for (let v = 0; v < own.length; v++) own[v] = distanceToHull(hull, positions, 3 * v);
    for (let f = 0; f < unmatched.length; f++) {
      const [a, b, c] = [triangles[3 * f], triangles[3 * f + 1], triangles[3 * f + 2]];
      const farthest = Math.max(own[a], own[b], own[c]);
      const longest = longestEdge(positions, 3 * a, 3 * b, 3 * c);
      // Any point of a face is within its longest edge of each corner.
      let distance = Math.max(0, farthest - longest);
      if (unmatched[f] === 1) distance = 0;
      else if (longest > farthest / 4)
        distance = Math.max(distance, faceDistanceToHull(hull, positions, 3 * a, 3 * b, 3 * c));
      for (const v of [a, b, c]) if (distance < clear[v]) clear[v] = distance;
    }
  }
  return clear;
}

function longestEdge(p: Mesh['positions'], a: number, b: number, c: number): number {
  return Math.sqrt(Math.max(lengthSq(p, a, b), lengthSq(p, b, c), lengthSq(p, c, a)));
}

function lengthSq(p: Mesh['positions'], a: number, b: number): number {
  return (p[a] - p[b]) ** 2 + (p[a + 1] - p[b + 1]) ** 2 + (p[a + 2] - p[b + 2]) ** 2;
}

function comesFirst(positions: Mesh['positions'], u: number, v: number): boolean {
  for (let k = 0; k < 3; k++) {
    const difference = positions[3 * u + k] - positions[3 * v + k];
    if (difference !== 0) return difference < 0;
  }
  return false;
}
