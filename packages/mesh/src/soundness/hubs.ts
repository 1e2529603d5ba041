import { isCollapsed } from '../topology/corners.ts';
import { treeOfBoxes } from '../tree/box-tree.ts';
import { overlappingPairs } from '../tree/overlap.ts';
import { leafCount, leafStart, type TriangleTree } from '../tree/tree.ts';
import type { Mesh } from '../types.ts';

/** A vertex of more faces than this is a hub: a regular mesh has 6, a turned part's cap as many as its rim. */
const MANY = 64;

/** Per face, the corner with the most faces where that is a hub, −1 elsewhere; null without hubs. */
export function hubsOf({ positions, triangles }: Mesh): Int32Array | null {
  const faces = new Uint32Array(positions.length / 3);
  let most = 0;
  for (const v of triangles) most = Math.max(most, ++faces[v]);
  if (most <= MANY) return null;
  const hubs = new Int32Array(triangles.length / 3).fill(-1);
  for (let f = 0; f < hubs.length; f++) {
    let busiest = MANY;
    for (let h = 3 * f; h < 3 * f + 3; h++) {
      const v = triangles[h];
      if (faces[v] <= busiest) continue;
      busiest = faces[v];
      hubs[f] = v;
    }
  }
  return hubs;
}

/** Per node, the hub that all its faces have in common, −1 when there is none. */
export function hubsOfNodes(tree: TriangleTree, hubs: Int32Array): Int32Array {
  const { links, faceOf } = tree;
  const common = new Int32Array(links.length);
  for (let node = links.length - 1; node >= 0; node--) {
    const link = links[node];
    if (link >= 0) {
      common[node] = common[link] === common[link + 1] ? common[link] : -1;
      continue;
    }
    const start = leafStart(link);
    common[node] = hubs[faceOf[start]];
    for (let slot = start + 1; slot < start + leafCount(link); slot++)
      if (hubs[faceOf[slot]] !== common[node]) common[node] = -1;
  }
  return common;
}

/**
 * Calls `found` for every pair of faces of one hub that may cross, until it returns true; returns whether it did.
 *
 * Whether faces with a common corner cross depends on their directions from it alone: each covers an arc of the
 * sphere around it, and they cross or overlap where the arcs do. The boxes of these arcs meet for neighbors only,
 * where those of the faces all meet in the hub. Faces with the same three corners are left out among themselves.
 */
export function pairsAtHubs(mesh: Mesh, hubs: Int32Array, found: (f: number, g: number) => boolean): boolean {
  const facesOf = new Map<number, number[]>();
  hubs.forEach((hub, face) => {
    if (hub < 0 || isCollapsed(mesh.triangles, face)) return;
    const list = facesOf.get(hub);
    if (list === undefined) facesOf.set(hub, [face]);
    else list.push(face);
  });
  for (const [hub, faces] of facesOf) {
    const arcs = alike(mesh, hub, faces);
    const tree = treeOfBoxes(arcBoxes(mesh, hub, arcs));
    let stopped = false;
    overlappingPairs(tree, tree, (i, j) => {
      for (const f of arcs[i].faces) {
        for (const g of arcs[j].faces) {
          stopped = found(f, g);
          if (stopped) return true;
        }
      }
      return false;
    });
    if (stopped) return true;
  }
  return false;
}

interface Arc {
  /** The corners besides the hub, ascending. */
  readonly ends: readonly [number, number];
  /** The faces that have them. */
  readonly faces: number[];
}

function alike({ triangles, positions }: Mesh, hub: number, faces: readonly number[]): Arc[] {
  const arcs = new Map<number, Arc>();
  const vertices = positions.length / 3;
  for (const face of faces) {
    const k = [0, 1, 2].find(corner => triangles[3 * face + corner] === hub) ?? 0;
    const b = triangles[3 * face + ((k + 1) % 3)];
    const c = triangles[3 * face + ((k + 2) % 3)];
    const ends = [Math.min(b, c), Math.max(b, c)] as const;
    const key = ends[0] * vertices + ends[1];
    const arc = arcs.get(key);
    if (arc === undefined) arcs.set(key, { ends, faces: [face] });
    else arc.faces.push(face);
  }
  return [...arcs.values()];
}

/** Covers the rounding of directions many times over. */
const SKIN = 1e-12;

/** The boxes of arcs: least x, y, z, then greatest. */
function arcBoxes({ positions }: Mesh, hub: number, arcs: readonly Arc[]): Float64Array {
  const boxes = new Float64Array(6 * arcs.length);
  const u = new Float64Array(3);
  const v = new Float64Array(3);
  for (let i = 0; i < arcs.length; i++) {
    direction(positions, hub, arcs[i].ends[0], u);
    direction(positions, hub, arcs[i].ends[1], v);
    // No point of the arc is farther from its chord than the middle.
    const rise = 1 - Math.hypot(u[0] + v[0], u[1] + v[1], u[2] + v[2]) / 2 + SKIN;
    for (let k = 0; k < 3; k++) {
      boxes[6 * i + k] = Math.min(u[k], v[k]) - rise;
      boxes[6 * i + 3 + k] = Math.max(u[k], v[k]) + rise;
    }
  }
  return boxes;
}

function direction(p: ArrayLike<number>, from: number, to: number, into: Float64Array): void {
  let most = 0;
  for (let k = 0; k < 3; k++) {
    into[k] = p[3 * to + k] - p[3 * from + k];
    most = Math.max(most, Math.abs(into[k]));
  }
  // First to size 1, so that no square over- or underflows.
  for (let k = 0; k < 3; k++) into[k] /= most;
  const length = Math.hypot(into[0], into[1], into[2]);
  for (let k = 0; k < 3; k++) into[k] /= length;
}
