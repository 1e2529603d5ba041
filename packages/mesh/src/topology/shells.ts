import type { Mesh } from '../types.ts';
import { isCollapsed, faceOf } from './corners.ts';
import type { EdgePairs } from './edge-pairs.ts';

/**
 * Shells: faces that hang together across edges with exactly two faces. Two solids that touch along an edge or at a
 * vertex are two shells, also when they share the vertices.
 */
export interface ShellLabels {
  /** Shell of each face, numbered by first face; −1 for a face with two equal corners. */
  readonly label: Int32Array;
  readonly shells: number;
  /** The faces shell by shell, each shell's lowest face first. */
  readonly faceList: Int32Array;
  /** N+1: the faces of shell s are `faceList[starts[s] … starts[s+1])`. */
  readonly starts: Int32Array;
  /** False when some shell cannot be given one consistent direction, as a Möbius band cannot. */
  readonly orientable: boolean;
}

export function labelShells(mesh: Mesh, pairs: EdgePairs): ShellLabels {
  const { triangles } = mesh;
  const { twins } = pairs;
  const faces = triangles.length / 3;
  const label = new Int32Array(faces).fill(-1);
  const faceList = new Int32Array(faces - pairs.collapsedFaces);
  const starts = [0];
  let end = 0;
  for (let seed = 0; seed < faces; seed++) {
    if (label[seed] >= 0) continue;
    if (pairs.collapsedFaces > 0 && isCollapsed(triangles, seed)) continue;
    const shell = starts.length - 1;
    label[seed] = shell;
    let at = end;
    faceList[end++] = seed;
    while (at < end) {
      const base = 3 * faceList[at++];
      for (let h = base; h < base + 3; h++) {
        const twin = twins[h];
        if (twin < 0) continue;
        const face = (twin / 3) | 0;
        if (label[face] >= 0) continue;
        label[face] = shell;
        faceList[end++] = face;
      }
    }
    starts.push(end);
  }
  return {
    label,
    shells: starts.length - 1,
    faceList,
    starts: Int32Array.from(starts),
    orientable: pairs.flipped.length === 0 || isOrientable(mesh, pairs),
  };
}

/** Can turning some faces over make all pairs run in opposite directions? */
function isOrientable(mesh: Mesh, pairs: EdgePairs): boolean {
  const { triangles } = mesh;
  const { twins } = pairs;
  const queue = new Int32Array(triangles.length / 3);
  const side = new Int8Array(queue.length);
  for (let seed = 0; seed < queue.length; seed++) {
    if (side[seed] !== 0) continue;
    side[seed] = 1;
    queue[0] = seed;
    for (let at = 0, end = 1; at < end; at++) {
      const face = queue[at];
      for (let h = 3 * face; h < 3 * face + 3; h++) {
        const twin = twins[h];
        if (twin < 0) continue;
        const other = faceOf(twin);
        const wanted = triangles[twin] === triangles[h] ? -side[face] : side[face];
        if (side[other] === 0) {
          side[other] = wanted;
          queue[end++] = other;
        } else if (side[other] !== wanted) return false;
      }
    }
  }
  return true;
}
