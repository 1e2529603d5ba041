import { createFloat64Welder, float64Positions, subMesh, weldFloat64, type Mesh } from '@kinprint/mesh';
import { comesFirst } from '../difference/canonical-order.ts';
import { snapOnto } from '../difference/snap.ts';
import type { Remix } from './types.ts';
import { shapeOf } from './shape-of.ts';

/** Glued faces: the base's own first, then those that the remixes exchanged. */
export interface Glued {
  readonly mesh: Mesh;
  /** Number of the first face that is not the base's. */
  readonly exchangedFrom: number;
}

/**
 * The base with the faces that each remix exchanged, put in place of the base's own: no boolean, no new corner.
 *
 * As chains of oriented faces this is A + B − base (see docs/decisions/0003 for the same of one remix): a closed
 * surface, which winds right wherever at most one of the two changed anything. Null where both exchanged the same face
 * of the base, as edits of one flat side do.
 *
 * @param meshes all in the frame of the base, without changes that touch
 */
export function gluedRemixes(
  meshes: Readonly<Record<'base' | Remix, Mesh>>,
  tolerance_mm: number,
): Glued | null {
  const { base } = meshes;
  const swapped = !comesFirst(shapeOf(meshes.a), shapeOf(meshes.b));
  const remixes = (swapped ? [meshes.b, meshes.a] : [meshes.a, meshes.b]).map(mesh =>
    snapOnto(mesh, base, tolerance_mm),
  );
  const [first, second] = remixes.map(({ unmatched }) => unmatched.after);
  if (first.some((gone, face) => gone === 1 && second[face] === 1)) return null;
  const kept = faces(first.map((gone, face) => 1 - (gone | second[face])));
  const welder = createFloat64Welder(base.positions.length / 3);
  const pieces = [
    subMesh(base, kept),
    ...remixes.map(({ before, unmatched }) => subMesh(before, faces(unmatched.before))),
  ];
  const triangles = pieces.map(({ positions: p, triangles: t }) =>
    t.map(v => weldFloat64(welder, p[3 * v], p[3 * v + 1], p[3 * v + 2])),
  );
  const all = new Uint32Array(triangles.reduce((sum, t) => sum + t.length, 0));
  let at = 0;
  for (const t of triangles) {
    all.set(t, at);
    at += t.length;
  }
  return { mesh: { positions: float64Positions(welder), triangles: all }, exchangedFrom: kept.length };
}

function faces(flags: Uint8Array): number[] {
  return [...flags.keys()].filter(face => flags[face] === 1);
}
