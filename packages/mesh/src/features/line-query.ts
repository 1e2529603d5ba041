import type { Mesh, Vec3 } from '../types.ts';
import { frameOf } from './frame.ts';

/** Asks whether a straight line from a point meets the front of a face. */
export interface LineQuery {
  /** True when a face that looks against `direction` is met within `reach` mm. Edges and corners belong to a face. */
  blocked(from: Vec3, direction: Vec3, reach: number): boolean;
}

const blockSize = 64;

/**
 * Few lines through a large mesh do not pay for a tree: boxes around runs of faces in file order, which are mostly
 * near each other, reject most of them. Built on first use.
 */
export function lineQuery(mesh: Mesh): LineQuery {
  let boxes: Float64Array | null = null;
  return {
    blocked(from, direction, reach) {
      boxes ??= blockBoxes(mesh);
      const { u, v } = frameOf(direction);
      const faceCount = mesh.triangles.length / 3;
      for (let block = 0; block * blockSize < faceCount; block++) {
        if (!meetsBox(boxes, 6 * block, from, direction, reach)) continue;
        const end = Math.min(faceCount, (block + 1) * blockSize);
        for (let f = block * blockSize; f < end; f++)
          if (meetsFront(mesh, f, from, direction, u, v, reach)) return true;
      }
      return false;
    },
  };
}

/** Lowest and highest corner of every run of faces, 6 numbers per run. */
function blockBoxes({ positions: p, triangles: t }: Mesh): Float64Array {
  const faceCount = t.length / 3;
  const boxes = new Float64Array(6 * Math.ceil(faceCount / blockSize));
  for (let at = 0; at < boxes.length; at += 6) {
    boxes.fill(Infinity, at, at + 3);
    boxes.fill(-Infinity, at + 3, at + 6);
    const first = (at / 6) * blockSize;
    const last = Math.min(faceCount, first + blockSize);
    for (let i = 3 * first; i < 3 * last; i++) {
      for (let k = 0; k < 3; k++) {
        const c = p[3 * t[i] + k];
        if (c < boxes[at + k]) boxes[at + k] = c;
        if (c > boxes[at + 3 + k]) boxes[at + 3 + k] = c;
      }
    }
  }
  return boxes;
}

function meetsBox(boxes: Float64Array, at: number, from: Vec3, direction: Vec3, reach: number): boolean {
  let enter = 0;
  let leave = reach;
  for (let k = 0; k < 3; k++) {
    const low = boxes[at + k] - from[k];
    const high = boxes[at + 3 + k] - from[k];
    const d = direction[k];
    // The box is widened a little, so that rounding loses no face that only touches.
    const slack = 1e-9 * (Math.abs(low) + Math.abs(high));
    if (Math.abs(d) < 1e-12) {
      if (low > slack || high < -slack) return false;
      continue;
    }
    const t1 = (d > 0 ? low - slack : high + slack) / d;
    const t2 = (d > 0 ? high + slack : low - slack) / d;
    if (t1 > enter) enter = t1;
    if (t2 < leave) leave = t2;
  }
  return enter <= leave;
}

function meetsFront(
  { positions: p, triangles: t }: Mesh,
  f: number,
  from: Vec3,
  direction: Vec3,
  u: Vec3,
  v: Vec3,
  reach: number,
): boolean {
  const x: number[] = [];
  const y: number[] = [];
  const z: number[] = [];
  for (let k = 0; k < 3; k++) {
    const at = 3 * t[3 * f + k];
    const dx = p[at] - from[0];
    const dy = p[at + 1] - from[1];
    const dz = p[at + 2] - from[2];
    x.push(dx * u[0] + dy * u[1] + dz * u[2]);
    y.push(dx * v[0] + dy * v[1] + dz * v[2]);
    z.push(dx * direction[0] + dy * direction[1] + dz * direction[2]);
  }
  // Seen along the line, a face that looks against it runs clockwise.
  const w0 = x[1] * y[2] - x[2] * y[1];
  const w1 = x[2] * y[0] - x[0] * y[2];
  const w2 = x[0] * y[1] - x[1] * y[0];
  const doubled = w0 + w1 + w2;
  const size = Math.abs(x[1] - x[0]) + Math.abs(y[1] - y[0]) + Math.abs(x[2] - x[0]) + Math.abs(y[2] - y[0]);
  const slack = 1e-9 * size * size;
  if (!(doubled < -slack)) return false;
  if (w0 > slack || w1 > slack || w2 > slack) return false;
  const depth = (w0 * z[0] + w1 * z[1] + w2 * z[2]) / doubled;
  return depth >= 0 && depth <= reach;
}
