import { meshDefaults } from '../defaults.ts';
import type { Note } from '../types.ts';
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
  if (open.topology.pairs.boundary.length === 0) return null;
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
