import type { Mesh, Vec3 } from '../types.ts';

/** Told of a piece of surface: its middle from the center, its area, and its plane's distance from the center. */
export type PieceVisitor = (x: number, y: number, z: number, area: number, distance: number) => void;

/**
 * Cuts every face into pieces no longer than `size` and tells of each: one piece for a small face, columns of
 * cells for a large one. Sums over pieces so hardly depend on how a surface is cut into faces.
 *
 * Where that would be more than `most` pieces beside one for each face (a hundred thousand needles as long as the
 * part), the pieces are made longer, at the price of exactness.
 */
export function forEachPiece(
  mesh: Mesh,
  center: Vec3,
  size: number,
  most: number,
  visit: PieceVisitor,
): void {
  let length = size;
  while (piecesBeyondFaces(mesh, length) > most) length *= 1.5;
  const { positions: p, triangles: t } = mesh;
  const [ox, oy, oz] = center;
  for (let k = 0; k < t.length; k += 3) {
    let a = 3 * t[k];
    let b = 3 * t[k + 1];
    let c = 3 * t[k + 2];
    const ab = squared(p, a, b);
    const bc = squared(p, b, c);
    const ca = squared(p, c, a);
    // The longest edge becomes a–b.
    const kept = a;
    if (bc >= ab && bc >= ca) {
      a = b;
      b = c;
      c = kept;
    } else if (ca >= ab) {
      a = c;
      c = b;
      b = kept;
    }
    const ax = p[a] - ox;
    const ay = p[a + 1] - oy;
    const az = p[a + 2] - oz;
    const ux = p[b] - p[a];
    const uy = p[b + 1] - p[a + 1];
    const uz = p[b + 2] - p[a + 2];
    const vx = p[c] - p[a];
    const vy = p[c + 1] - p[a + 1];
    const vz = p[c + 2] - p[a + 2];
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    const doubled = Math.sqrt(nx * nx + ny * ny + nz * nz);
    if (!(doubled > 0)) continue;
    const area = doubled / 2;
    const distance = Math.abs((nx * ax + ny * ay + nz * az) / doubled);
    const longestSq = ux * ux + uy * uy + uz * uz;
    const longest = Math.sqrt(longestSq);
    if (longest <= length) {
      visit(ax + (ux + vx) / 3, ay + (uy + vy) / 3, az + (uz + vz) / 3, area, distance);
      continue;
    }
    // The height on the longest edge cuts the face into two right triangles; each is cut across that edge into columns,
    // and these into cells. Even a needle's area is so spread along it as it should be.
    const foot = (ux * vx + uy * vy + uz * vz) / longestSq;
    const hx = vx - foot * ux;
    const hy = vy - foot * uy;
    const hz = vz - foot * uz;
    const height = doubled / longest;
    for (let end = 0; end < 2; end++) {
      const leg = end === 0 ? foot : 1 - foot;
      const columns = Math.ceil((leg * longest) / length);
      for (let column = 0; column < columns; column++) {
        // From the sharp corner, as shares of the leg; the width grows with the distance.
        const near = column / columns;
        const far = (column + 1) / columns;
        const share = far * far - near * near;
        const middle = ((2 / 3) * (far * far * far - near * near * near)) / share;
        const along = end === 0 ? middle * leg : 1 - middle * leg;
        const cells = Math.ceil((far * height) / length);
        for (let cell = 0; cell < cells; cell++) {
          const up = (middle * (cell + 0.5)) / cells;
          visit(
            ax + along * ux + up * hx,
            ay + along * uy + up * hy,
            az + along * uz + up * hz,
            (area * leg * share) / cells,
            distance,
          );
        }
      }
    }
  }
}

/** About how many pieces there would be, less one for each face. */
function piecesBeyondFaces({ positions: p, triangles: t }: Mesh, length: number): number {
  let pieces = 0;
  const lengthSq = length * length;
  for (let k = 0; k < t.length; k += 3) {
    const a = 3 * t[k];
    const b = 3 * t[k + 1];
    const c = 3 * t[k + 2];
    const ab = squared(p, a, b);
    const bc = squared(p, b, c);
    if (ab + bc <= lengthSq / 2) continue; // then the third edge is no longer than the length
    const longestSq = Math.max(ab, bc, squared(p, c, a));
    if (longestSq <= lengthSq) continue;
    // Needles are one row of cells.
    pieces += Math.max(Math.sqrt(longestSq / lengthSq), areaOf(p, a, b, c) / lengthSq);
  }
  return pieces;
}

function areaOf(p: Mesh['positions'], a: number, b: number, c: number): number {
  const ux = p[b] - p[a];
  const uy = p[b + 1] - p[a + 1];
  const uz = p[b + 2] - p[a + 2];
  const vx = p[c] - p[a];
  const vy = p[c + 1] - p[a + 1];
  const vz = p[c + 2] - p[a + 2];
  const nx = uy * vz - uz * vy;
  const ny = uz * vx - ux * vz;
  const nz = ux * vy - uy * vx;
  return Math.sqrt(nx * nx + ny * ny + nz * nz) / 2;
}

function squared(p: Mesh['positions'], a: number, b: number): number {
  const x = p[b] - p[a];
  const y = p[b + 1] - p[a + 1];
  const z = p[b + 2] - p[a + 2];
  return x * x + y * y + z * z;
}
