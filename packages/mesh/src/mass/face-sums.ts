import type { Mesh, Vec3 } from '../types.ts';

/**
 * Integrals over the faces of a mesh and over the signed tetrahedra that the faces span with the point `about`.
 * The tetrahedra's integrals are those of the solid when the faces form a closed cycle, whatever `about` is.
 */
export interface FaceSums {
  readonly about: Vec3;
  readonly area: number;
  /** ∫ dV, signed. */
  readonly volume: number;
  /** Sum of the tetrahedra's absolute volumes: the scale of the rounding error in `volume`. */
  readonly turnover: number;
  /** ∫ r dV, r from `about`. */
  readonly first: Vec3;
  /** ∫ r rᵀ dV as xx, yy, zz, xy, yz, zx. */
  readonly second: readonly [number, number, number, number, number, number];
  /** Faces whose corners lie on one line (within rounding), faces with two equal corners included. */
  readonly degenerate: number;
  /** The first few of them. */
  readonly firstDegenerate: readonly number[];
}

/** How many degenerate faces are named. */
const NAMED = 5;

/** A face counts as degenerate when its doubled area is below this share of its longest edge, squared. */
const FLAT_SHARE = 1e-10;
const FLAT_SQ = FLAT_SHARE * FLAT_SHARE;

/** Faces summed before the sums are added to the totals: keeps rounding at a few units of (BLOCK + F/BLOCK). */
const BLOCK = 512;

/**
 * The sums, in double precision and in one pass.
 *
 * Volume: det[a, b, c] / 6 per face. Second moments of a tetrahedron with one corner at the origin:
 * V/20 · (Σ vᵢvᵢᵀ + s sᵀ), s = Σ vᵢ (C. Zhang, T. Chen, Efficient feature extraction for 2D/3D objects in mesh
 * representation, ICIP 2001).
 */
export function faceSums(mesh: Mesh, about: Vec3): FaceSums {
  const count = mesh.triangles.length / 3;
  // Doubled areas and the sixfold, 24-fold and 120-fold integrals.
  const totals = new Float64Array(12);
  const firstDegenerate: number[] = [];
  let degenerate = 0;
  for (let from = 0; from < count; from += BLOCK) {
    degenerate += addBlock(mesh, about, from, Math.min(count, from + BLOCK), totals, firstDegenerate);
  }
  const [area2, det6, abs6, mx, my, mz, sxx, syy, szz, sxy, syz, szx] = totals;
  return {
    about,
    area: area2 / 2,
    volume: det6 / 6,
    turnover: abs6 / 6,
    first: [mx / 24, my / 24, mz / 24],
    second: [sxx / 120, syy / 120, szz / 120, sxy / 120, syz / 120, szx / 120],
    degenerate,
    firstDegenerate,
  };
}

/** Adds the sums of faces [from, to) to `totals`; returns how many are degenerate and names the first of all. */
function addBlock(
  { positions, triangles }: Mesh,
  [ox, oy, oz]: Vec3,
  from: number,
  to: number,
  totals: Float64Array,
  firstDegenerate: number[],
): number {
  let degenerate = 0;
  let area = 0;
  let volume = 0;
  let turnover = 0;
  let mx = 0;
  let my = 0;
  let mz = 0;
  let sxx = 0;
  let syy = 0;
  let szz = 0;
  let sxy = 0;
  let syz = 0;
  let szx = 0;
  for (let base = 3 * from; base < 3 * to; base += 3) {
    const a = 3 * triangles[base];
    const b = 3 * triangles[base + 1];
    const c = 3 * triangles[base + 2];
    const ax = positions[a] - ox;
    const ay = positions[a + 1] - oy;
    const az = positions[a + 2] - oz;
    const bx = positions[b] - ox;
    const by = positions[b + 1] - oy;
    const bz = positions[b + 2] - oz;
    const cx = positions[c] - ox;
    const cy = positions[c + 1] - oy;
    const cz = positions[c + 2] - oz;
    const ux = bx - ax;
    const uy = by - ay;
    const uz = bz - az;
    const vx = cx - ax;
    const vy = cy - ay;
    const vz = cz - az;
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    const normSq = nx * nx + ny * ny + nz * nz;
    const uu = ux * ux + uy * uy + uz * uz;
    const vv = vx * vx + vy * vy + vz * vz;
    const longest = uu > vv ? uu : vv;
    if (normSq <= FLAT_SQ * longest * longest) {
      degenerate++;
      if (firstDegenerate.length < NAMED) firstDegenerate.push(base / 3);
    }
    area += Math.sqrt(normSq);
    const det = ax * nx + ay * ny + az * nz;
    volume += det;
    turnover += Math.abs(det);
    const sx = ax + bx + cx;
    const sy = ay + by + cy;
    const sz = az + bz + cz;
    mx += det * sx;
    my += det * sy;
    mz += det * sz;
    sxx += det * (ax * ax + bx * bx + cx * cx + sx * sx);
    syy += det * (ay * ay + by * by + cy * cy + sy * sy);
    szz += det * (az * az + bz * bz + cz * cz + sz * sz);
    sxy += det * (ax * ay + bx * by + cx * cy + sx * sy);
    syz += det * (ay * az + by * bz + cy * cz + sy * sz);
    szx += det * (az * ax + bz * bx + cz * cx + sz * sx);
  }
  totals[0] += area;
  totals[1] += volume;
  totals[2] += turnover;
  totals[3] += mx;
  totals[4] += my;
  totals[5] += mz;
  totals[6] += sxx;
  totals[7] += syy;
  totals[8] += szz;
  totals[9] += sxy;
  totals[10] += syz;
  totals[11] += szx;
  return degenerate;
}
