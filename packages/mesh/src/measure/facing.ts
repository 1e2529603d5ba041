import type { EdgePairs } from '../topology/edge-pairs.ts';
import { pairEdges } from '../topology/edge-pairs.ts';
import { reversed } from '../transform/transform-mesh.ts';
import type { Mesh, Note } from '../types.ts';
import type { Analysis } from './analyze.ts';
import { isMixed } from './measure-core.ts';

/** The surface whose material side is asked for: features, walls and overhang depend on which side is outside. */
export interface Facing {
  /** Seams closed, and turned over when the mesh is inside out. */
  readonly mesh: Mesh;
  readonly pairs: EdgePairs;
  /** Why the faces do not tell which side is outside; null when they do. */
  readonly doubt: string | null;
  readonly notes: readonly Note[];
}

export function facingOf(analysis: Analysis, solid: Analysis | null): Facing {
  const { mesh, topology, nesting } = solid ?? analysis;
  const { pairs } = topology;
  if (topology.shells === 0)
    return { mesh, pairs, doubt: 'there is no face with three distinct corners', notes: [] };
  if (pairs.flipped.length > 0)
    return { mesh, pairs, doubt: 'the faces do not agree on which side is outside', notes: [] };
  if (solid !== null && isMixed(solid))
    return { mesh, pairs, doubt: 'some shells are inside out', notes: [] };
  if (solid !== null && !nesting.insideOut && solid.sums.volume < 0) {
    return { mesh, pairs, doubt: 'more of the surface faces inward than outward', notes: [] };
  }
  if (nesting.insideOut) {
    const turned = { positions: mesh.positions, triangles: reversed(mesh.triangles) };
    const note: Note = {
      code: 'measured-turned',
      text: 'Features, walls and overhang are those of the mesh turned right side out.',
      about: 'features',
    };
    return { mesh: turned, pairs: pairEdges(turned), doubt: null, notes: [note] };
  }
  if (solid !== null) return { mesh, pairs, doubt: null, notes: [] };
  const note: Note = {
    code: 'outside-assumed',
    text: 'The mesh encloses no volume: features, walls and overhang take the side that its faces look to for the outside.',
    about: 'features',
  };
  return { mesh, pairs, doubt: null, notes: [note] };
}
