import { crossingPairs, type Mesh } from '@kinprint/mesh';

/** A closed surface, and how many pairs of its faces cross. */
export interface Surface {
  readonly mesh: Mesh;
  readonly crossings: number;
}

/** Counted as a file of single precision will hold it: rounding may make faces cross that nearly touch. */
export function counted(mesh: Mesh): Surface {
  const written = { positions: Float32Array.from(mesh.positions), triangles: mesh.triangles };
  return { mesh, crossings: crossingPairs(written).pairs.length / 2 };
}

/** The first surface without crossing faces; where all have some, the one with fewest. Null where none can be made. */
export function fewestCrossings<T extends Surface>(ways: readonly (() => T | null)[]): T | null {
  let best: T | null = null;
  for (const way of ways) {
    const found = way();
    if (found === null || (best !== null && found.crossings >= best.crossings)) continue;
    best = found;
    if (found.crossings === 0) break;
  }
  return best;
}
