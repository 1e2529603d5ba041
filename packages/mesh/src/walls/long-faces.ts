import { leafCount, leafStart, type TriangleTree } from '../tree/tree.ts';
import { ballOf, ballOffCone, opposed, type FacingBounds } from './facing-bounds.ts';
import { sine, type FacingPieces } from './facing-pieces.ts';

const ball = new Float64Array(4);

/**
 * Whether some face of a leaf may face a node nearer than the bound. Balls and boxes say little about long faces, like
 * the facets of a bore, so each face is held against the ball of the node: the ball must lie behind it, and over it as
 * seen along its normal, or may be faced from a sharp ridge of it.
 */
export function leafMayFace(
  tree: TriangleTree,
  bounds: FacingBounds,
  of: FacingPieces,
  leaf: number,
  node: number,
  bound: number,
): boolean {
  const { links, corners, faceOf, center } = tree;
  ballOf(bounds, node, ball);
  const [x, y, z] = [ball[0] + center[0], ball[1] + center[1], ball[2] + center[2]];
  const start = leafStart(links[leaf]);
  const end = start + leafCount(links[leaf]);
  for (let slot = start; slot < end; slot++) {
    const f = faceOf[slot];
    const over = overFace(of, f, corners, 3 * slot, x, y, z, ball[3], bound);
    if (over === 'off') continue;
    const { normals: n, smooth } = of;
    if (over === 'over' && opposed(bounds, node, n[3 * f], n[3 * f + 1], n[3 * f + 2], smooth[f]))
      return true;
    if (of.ridges[f] !== 0 && ridgeMayFace(tree, bounds, of, slot, node, bound)) return true;
  }
  return false;
}

function overFace(
  of: FacingPieces,
  f: number,
  corners: Uint32Array,
  at: number,
  x: number,
  y: number,
  z: number,
  radius: number,
  bound: number,
): 'over' | 'beside' | 'off' {
  const { vertices: v, normals, smooth } = of;
  const nx = normals[3 * f];
  const ny = normals[3 * f + 1];
  const nz = normals[3 * f + 2];
  const first = 3 * corners[at];
  const height = nx * (v[first] - x) + ny * (v[first + 1] - y) + nz * (v[first + 2] - z);
  if (height + radius <= 0 || height - radius >= bound) return 'off';
  const aside = radius + bound * sine(smooth[f]);
  for (let k = 0; k < 3; k++) {
    const a = 3 * corners[at + k];
    const b = 3 * corners[at + (k === 2 ? 0 : k + 1)];
    const ex = v[b] - v[a];
    const ey = v[b + 1] - v[a + 1];
    const ez = v[b + 2] - v[a + 2];
    // Out of the face, square to the edge, as long as the edge.
    const mx = ey * nz - ez * ny;
    const my = ez * nx - ex * nz;
    const mz = ex * ny - ey * nx;
    const out = mx * (x - v[a]) + my * (y - v[a + 1]) + mz * (z - v[a + 2]);
    if (out > 0 && out * out > aside * aside * (mx * mx + my * my + mz * mz)) return 'beside';
  }
  return 'over';
}

/** Whether a ridge or a corner at a ridge lies in front of the node, within the directions along which it may face. */
function ridgeMayFace(
  { corners, center, faceOf }: TriangleTree,
  bounds: FacingBounds,
  { vertices: v, ridges }: FacingPieces,
  slot: number,
  node: number,
  bound: number,
): boolean {
  const bits = ridges[faceOf[slot]];
  for (let k = 0; k < 3; k++) {
    const a = 3 * corners[3 * slot + k];
    const edge = (bits & (8 << k)) !== 0;
    if (!edge && (bits & (1 << k)) === 0) continue;
    const b = edge ? 3 * corners[3 * slot + (k === 2 ? 0 : k + 1)] : a;
    const radius = Math.hypot(v[b] - v[a], v[b + 1] - v[a + 1], v[b + 2] - v[a + 2]) / 2;
    const x = (v[a] + v[b]) / 2 - center[0];
    const y = (v[a + 1] + v[b + 1]) / 2 - center[1];
    const z = (v[a + 2] + v[b + 2]) / 2 - center[2];
    if (!ballOffCone(bounds, node, x, y, z, radius, bound)) return true;
  }
  return false;
}
