import { bendsAway, isRidge, type FacingAngles, type Surface } from './facing.ts';

export interface FacingReach {
  /** Per face, radians. */
  readonly reach: Float32Array;
  /** The same away from sharp ridges. */
  readonly smooth: Float32Array;
  /** Where each face may face by more than `smooth`. Bits 0 to 2: at that corner; bits 3 to 5: along the edge from it. */
  readonly ridges: Uint8Array;
  /**
   * Bits per face. 1: around its corners the surface truly bends, and only away. 2: it truly bends away in some
   * direction, whatever it does in others.
   */
  readonly bulges: Uint8Array;
}

/**
 * How far from its own normal each face may face, radians. Where the surface only bends away around a corner, by
 * twice the facing angle; at a hollow corner along any normal of the faces around, whose bends add up at most; at a
 * sharp ridge by the angle allowed there on top.
 */
export function facingReach(surface: Surface, angles: FacingAngles): FacingReach {
  const { triangles: t, neighbors, normals: n, positions } = surface;
  const bendAt = new Float32Array(positions.length / 3);
  const hollowAt = new Float32Array(bendAt.length);
  const atRidge = new Uint8Array(bendAt.length);
  const ridges = new Uint8Array(t.length / 3);
  for (let h = 0; h < t.length; h++) {
    const g = neighbors[h];
    if (g < 0) continue;
    const f = Math.floor(h / 3);
    const k = h - 3 * f;
    const a = t[h];
    const b = t[3 * f + ((k + 1) % 3)];
    const cos = n[3 * f] * n[3 * g] + n[3 * f + 1] * n[3 * g + 1] + n[3 * f + 2] * n[3 * g + 2];
    if (cos > 1 - 1e-12) continue;
    if (cos <= angles.cosSharp && isRidge(surface, f, k, angles.cosSharp)) {
      atRidge[a] = atRidge[b] = 1;
      ridges[f] |= 8 << k;
      continue;
    }
    // Every edge is met from both sides.
    const half = Math.acos(Math.min(1, Math.max(-1, cos))) / 2;
    if (!bendsAway(surface, f, k, g)) {
      hollowAt[a] += half;
      hollowAt[b] += half;
    }
    bendAt[a] += half;
    bendAt[b] += half;
  }
  const facing = Math.acos(angles.cosFacing);
  const ending = Math.acos(angles.cosFacingAtEdge);
  const widest = widestAround(surface);
  const reach = new Float32Array(t.length / 3);
  const smooth = new Float32Array(reach.length);
  const bulges = new Uint8Array(reach.length);
  for (let f = 0; f < reach.length; f++) {
    let sum = 0;
    bulges[f] = 3;
    for (let k = 0; k < 3; k++) {
      const vertex = t[3 * f + k];
      sum = Math.max(sum, hollowAt[vertex] > trulyHollow ? bendAt[vertex] : facing);
      const hollow = hollowAt[vertex];
      const away = bendAt[vertex] - hollow;
      if (hollow > trulyHollow) bulges[f] &= 2;
      if (away <= trulyHollow || away < hollow / 5) bulges[f] = 0;
      if (atRidge[vertex] === 1) ridges[f] |= 1 << k;
    }
    const bend = Math.min(sum, Math.max(facing, widest[f]));
    smooth[f] = Math.min(Math.PI, bend + facing);
    reach[f] = ridges[f] === 0 ? smooth[f] : Math.min(Math.PI, bend + Math.max(facing, ending));
  }
  return { reach, smooth, ridges, bulges };
}

/** Largest angle between the normal of each face and those of all faces that share a corner with it, radians. */
function widestAround({ triangles: t, normals: n, positions }: Surface): Float32Array {
  const starts = new Uint32Array(positions.length / 3 + 1);
  for (const vertex of t) starts[vertex + 1]++;
  for (let v = 0; v + 1 < starts.length; v++) starts[v + 1] += starts[v];
  const faces = new Uint32Array(t.length);
  const next = starts.slice();
  for (let h = 0; h < t.length; h++) faces[next[t[h]]++] = Math.floor(h / 3);
  const least = new Float32Array(t.length / 3).fill(1);
  for (let v = 0; v + 1 < starts.length; v++) {
    // Around a hub of very many faces all are taken to face anywhere; that is safe, only slower.
    const hub = starts[v + 1] - starts[v] > largestHub;
    for (let i = starts[v]; i < starts[v + 1]; i++) {
      const f = faces[i];
      if (hub) {
        least[f] = -1;
        continue;
      }
      for (let j = i + 1; j < starts[v + 1]; j++) {
        const g = faces[j];
        const cos = n[3 * f] * n[3 * g] + n[3 * f + 1] * n[3 * g + 1] + n[3 * f + 2] * n[3 * g + 2];
        if (cos < least[f]) least[f] = cos;
        if (cos < least[g]) least[g] = cos;
      }
    }
  }
  for (let f = 0; f < least.length; f++) least[f] = Math.acos(Math.max(-1, least[f])) + 1e-3;
  return least;
}

/** Valleys below this many radians in all are rounding. */
const trulyHollow = 1e-3;
const largestHub = 64;
