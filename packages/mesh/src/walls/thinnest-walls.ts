import { meshDefaults } from '../defaults.ts';
import { faceNormals } from '../face-normals.ts';
import type { ThinPlace } from '../measurement.ts';
import { faceAdjacency } from '../topology/face-adjacency.ts';
import type { TriangleTree } from '../tree/tree.ts';
import type { Mesh, Note } from '../types.ts';
import { comparePairs } from './compare-pairs.ts';
import { lookAcross } from './look-across.ts';
import { thinPlaces } from './thin-places.ts';
import { wallSearch } from './wall-search.ts';

export interface WallOptions {
  /** From `faceAdjacency`, when known already. */
  readonly neighbors?: Int32Array;
  /** How many places are told at most. */
  readonly places?: number;
  /** Pairs of nodes and faces looked at per face, at most; see `meshDefaults.walls`. */
  readonly pairsPerFace?: number;
}

export interface ThinnestWalls {
  /** Null when no two places of the surface face each other through material. */
  readonly thinnest_mm: number | null;
  /** Ascending; at least a tenth of the diagonal apart, and at most half again as thick as the thinnest. */
  readonly places: readonly ThinPlace[];
  readonly notes: readonly Note[];
}

/**
 * The thinnest wall: the smallest distance between two points of the surface that face each other through material.
 *
 * The surface faces along the line at a point when it nowhere turns back around it (by more than 2°): on a flat face
 * the line is the normal, at a hollow edge or corner it lies between the normals. So the faces of a wedge, of a
 * chamfer or around a corner are no wall. Where a surface ends in a sharp ridge, the line may stand up to 20° off
 * its normal: a tapering rib is as thick as its end. The line runs inside the solid; gaps between parts do not
 * count, since their surfaces look at each other through air.
 *
 * Walls between surfaces that are flat, or hollow as seen from the material (bores, grooves, the inside of a shell),
 * are the minimum over all pairs of triangles, each measured exactly: where the work allowed per face suffices, the
 * true one; on finer meshes none is thinner by more than `meshDefaults.walls.tolerance`, 0.1 %. Where even that takes
 * too much work, a note says down to what thickness walls are ruled out. Where both sides bulge outward (a ball, a
 * pin of an odd number of sides) the thickness is the least found from the middles of up to 4000 faces.
 *
 * Needs faces that look outward; where shells overlap, the surface inside other material counts as if it were
 * outside. @param tree of the same mesh
 */
export function thinnestWalls(mesh: Mesh, tree: TriangleTree, options: WallOptions = {}): ThinnestWalls {
  const neighbors = options.neighbors ?? faceAdjacency(mesh);
  const { normals, total } = faceNormals(mesh);
  if (tree.size === 0 || !(total > 0)) return noWalls('The mesh has no area, so it has no walls.');
  const places = thinPlaces(options.places ?? meshDefaults.walls.places, tree.diagonal / 10);
  const search = wallSearch(
    { positions: mesh.positions, triangles: mesh.triangles, neighbors, normals },
    tree,
    places,
  );
  const looked = lookAcross(search);
  const compared = comparePairs(search, options.pairsPerFace ?? meshDefaults.walls.pairsPerFace);
  const sureBelow_mm = looked ? compared : 0;
  const [first] = places.list();
  const notes = sureBelow_mm < Infinity ? [notAllCompared(sureBelow_mm)] : [];
  if (first === undefined) {
    const none = noWalls('No two places of the surface face each other through material.');
    return { ...none, notes: [...none.notes, ...notes] };
  }
  return { thinnest_mm: first.thickness_mm, places: places.list(), notes };
}

function notAllCompared(sureBelow_mm: number): Note {
  const sure =
    sureBelow_mm > 0
      ? `Only walls below ${sureBelow_mm.toPrecision(3)} mm are ruled out`
      : 'No wall is ruled out';
  return {
    code: 'walls-not-all-compared',
    text: `Too many places face each other to compare them all; there may be a thinner wall than the one told. ${sure}.`,
    about: 'thinnest_wall_mm',
  };
}

function noWalls(text: string): ThinnestWalls {
  return { thinnest_mm: null, places: [], notes: [{ code: 'no-walls', text, about: 'thinnest_wall_mm' }] };
}
