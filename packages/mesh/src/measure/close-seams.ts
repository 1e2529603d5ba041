import { meshDefaults } from '../defaults.ts';
import type { Mesh, Note } from '../types.ts';
import { nextEdge } from '../topology/corners.ts';
import { pairEdges } from '../topology/edge-pairs.ts';
import { weldWithin } from '../weld/weld-within.ts';
import { analyze, type Analysis } from './analyze.ts';

/**
 * The same mesh with its open seams closed, when vertices on them lie so near each other that closing is no change
 * of shape and the faces then form a closed cycle; else null.
 */
export function closeSeams(
  open: Analysis,
  tolerance_mm = seamTolerance(open),
): { closed: Analysis; note: Note } | null {
  if (open.topology.pairs.boundary.length === 0 || isHopeless(open, tolerance_mm)) return null;
  const { mesh, merged, largestMove_mm } = weldWithin(open.mesh, tolerance_mm);
  if (merged === 0) return null;
  const closed = analyze(mesh);
  if (!closed.topology.pairs.closedCycle) return null;
  const note: Note = {
    code: 'seams-closed',
    text:
      `The mesh is open, but ${merged} ${merged === 1 ? 'vertex' : 'vertices'} on its borders, moved by at most ` +
      `${largestMove_mm.toPrecision(2)} mm, close it; the volume is that of the closed mesh.`,
    about: 'volume_mm3',
  };
  return { closed, note };
}

function seamTolerance(open: Analysis): number {
  return meshDefaults.seams.share * open.diagonal;
}

/**
 * True when a boundary edge, of a few looked at, has no other border vertex within the tolerance of either end: then
 * no weld can close the mesh, and the costly attempt is spared.
 */
function isHopeless(open: Analysis, tolerance_mm: number): boolean {
  const { boundary } = open.topology.pairs;
  const { triangles } = open.mesh;
  for (let k = 0; k < SAMPLES; k++) {
    const h = boundary[Math.floor((k * boundary.length) / SAMPLES)];
    if (
      !hasPartner(open, triangles[h], tolerance_mm) &&
      !hasPartner(open, triangles[nextEdge(h)], tolerance_mm)
    ) {
      return true;
    }
  }
  return false;
}

const SAMPLES = 8;

function hasPartner(open: Analysis, vertex: number, tolerance_mm: number): boolean {
  const { positions, triangles } = open.mesh;
  const { boundary } = open.topology.pairs;
  const [x, y, z] = [positions[3 * vertex], positions[3 * vertex + 1], positions[3 * vertex + 2]];
  const limitSq = tolerance_mm * tolerance_mm;
  for (let i = 0; i < boundary.length; i++) {
    for (let end = 0; end < 2; end++) {
      const other = triangles[end === 0 ? boundary[i] : nextEdge(boundary[i])];
      if (other === vertex) continue;
      const dx = positions[3 * other] - x;
      const dy = positions[3 * other + 1] - y;
      const dz = positions[3 * other + 2] - z;
      if (dx * dx + dy * dy + dz * dz <= limitSq) return true;
    }
  }
  return false;
}

/** The mesh with its seams closed where that is no change of shape and closes it; else the mesh as it is. */
export function seamClosed(mesh: Mesh): Mesh {
  const pairs = pairEdges(mesh);
  return pairs.closedCycle || pairs.boundary.length === 0
    ? mesh
    : (closeSeams(analyze(mesh))?.closed.mesh ?? mesh);
}
