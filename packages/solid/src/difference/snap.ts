import type { Mesh } from '@kinprint/mesh';
import { matchFaces, type UnmatchedFaces } from './match-faces.ts';
import { matchVertices, spacing, type Positions } from './match-vertices.ts';

export interface Snapped {
  /** BEFORE with vertices moved onto AFTER's where they lie within the tolerance: common faces are equal bit for bit. */
  readonly before: Mesh;
  readonly unmatched: UnmatchedFaces;
}

/**
 * Moves BEFORE's vertices onto AFTER's where they are closer than `tolerance_mm` (and closer than a tenth of the
 * usual vertex spacing), so that unchanged surfaces coincide exactly instead of crossing each other in slivers.
 * A vertex is left where it is when a face that AFTER does not share would turn over or collapse.
 */
export function snapOnto(before: Mesh, after: Mesh, tolerance_mm: number): Snapped {
  const radius = Math.min(tolerance_mm, spacing(after.positions) / 10);
  const partner = matchVertices(before.positions, after.positions, radius);
  const moving = movedVertices(before.positions, after.positions, partner);
  let unmatched = matchFaces(before.triangles, after.triangles, partner, after.positions.length / 3);
  if (moving.count === 0) return { before, unmatched };
  let positions = moveVertices(before.positions, after.positions, partner);
  for (let round = 0; round < maxRounds; round++) {
    const loosened = loosenTurnedFaces(
      before,
      positions,
      partner,
      moving.moved,
      unmatched.before,
      round === maxRounds - 1,
    );
    if (loosened === 0) break;
    unmatched = matchFaces(before.triangles, after.triangles, partner, after.positions.length / 3);
    positions = moveVertices(before.positions, after.positions, partner);
  }
  return { before: { positions, triangles: before.triangles }, unmatched };
}

/** Letting one face's vertices go may turn its neighbor; after this many rounds every moved vertex goes back. */
const maxRounds = 6;

function movedVertices(before: Positions, after: Positions, partner: Int32Array) {
  const moved = new Uint8Array(partner.length);
  let count = 0;
  for (let v = 0; v < partner.length; v++) {
    const to = 3 * partner[v];
    if (to < 0) continue;
    const from = 3 * v;
    if (
      before[from] !== after[to] ||
      before[from + 1] !== after[to + 1] ||
      before[from + 2] !== after[to + 2]
    ) {
      moved[v] = 1;
      count++;
    }
  }
  return { moved, count };
}

function moveVertices(before: Positions, after: Positions, partner: Int32Array): Float64Array {
  const positions = Float64Array.from(before);
  for (let v = 0; v < partner.length; v++) {
    const to = 3 * partner[v];
    if (to < 0) continue;
    positions[3 * v] = after[to];
    positions[3 * v + 1] = after[to + 1];
    positions[3 * v + 2] = after[to + 2];
  }
  return positions;
}

/** Takes the partner away from moved vertices of faces that turned over; returns how many it took. */
function loosenTurnedFaces(
  before: Mesh,
  positions: Float64Array,
  partner: Int32Array,
  moved: Uint8Array,
  unmatched: Uint8Array,
  all: boolean,
): number {
  const { triangles } = before;
  let loosened = 0;
  const loosen = (v: number): void => {
    if (moved[v] === 0 || partner[v] < 0) return;
    partner[v] = -1;
    loosened++;
  };
  for (let f = 0; f < unmatched.length; f++) {
    if (unmatched[f] === 0) continue;
    const a = triangles[3 * f];
    const b = triangles[3 * f + 1];
    const c = triangles[3 * f + 2];
    if ((moved[a] | moved[b] | moved[c]) === 0 || sameSide(before.positions, positions, a, b, c)) continue;
    if (all) {
      for (let v = 0; v < partner.length; v++) loosen(v);
      return loosened;
    }
    loosen(a);
    loosen(b);
    loosen(c);
  }
  return loosened;
}

/** Whether a face still looks to the same side; one that had no area before cannot turn. */
function sameSide(from: Positions, to: Positions, a: number, b: number, c: number): boolean {
  const m = normalOf(from, a, b, c);
  const n = normalOf(to, a, b, c);
  const before = m[0] * m[0] + m[1] * m[1] + m[2] * m[2];
  return before === 0 || m[0] * n[0] + m[1] * n[1] + m[2] * n[2] > 0;
}

function normalOf(p: Positions, a: number, b: number, c: number): readonly [number, number, number] {
  const ux = p[3 * b] - p[3 * a];
  const uy = p[3 * b + 1] - p[3 * a + 1];
  const uz = p[3 * b + 2] - p[3 * a + 2];
  const vx = p[3 * c] - p[3 * a];
  const vy = p[3 * c + 1] - p[3 * a + 1];
  const vz = p[3 * c + 2] - p[3 * a + 2];
  return [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
}
