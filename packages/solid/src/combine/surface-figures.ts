import type { Mesh } from '@kinprint/mesh';
import { measureShells } from '../shell-measure.ts';
import { findShells } from '../shells.ts';

/** What tells one closed surface from another at a glance. */
export interface SurfaceFigures {
  readonly closed: boolean;
  readonly shells: number;
  /** Euler's: vertices − edges + faces; 2 per shell less 2 per handle. */
  readonly characteristic: number;
  readonly volume_mm3: number;
}

export function surfaceFigures(mesh: Mesh): SurfaceFigures {
  const shells = findShells(mesh);
  const volume_mm3 = measureShells(mesh, shells).reduce((sum, shell) => sum + shell.volume_mm3, 0);
  // A closed surface of F triangles has 3F/2 edges.
  const characteristic = verticesUsed(mesh) - mesh.triangles.length / 6;
  return { closed: shells.closed, shells: shells.count, characteristic, volume_mm3 };
}

function verticesUsed({ positions, triangles }: Mesh): number {
  const used = new Uint8Array(positions.length / 3);
  for (const v of triangles) used[v] = 1;
  return used.reduce((sum, flag) => sum + flag, 0);
}
