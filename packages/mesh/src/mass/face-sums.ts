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
export const FLAT_SHARE = 1e-10;

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
  const { positions, triangles } = mesh;
  const [ox, oy, oz] = about;
  const count = triangles.length / 3;
  const flatSq = FLAT_SHARE * FLAT_SHARE;
  let degenerate = 0;
  const firstDegenerate: number[] = [];
  // Totals hold doubled areas and the sixfold, 24-fold and 120-fold integrals.
  let [area2, det6, abs6, mx, my, mz] = [0, 0, 0, 0, 0, 0];
  let [sxx, syy, szz, sxy, syz, szx] = [0, 0, 0, 0, 0, 0];
  for (let from = 0; from < count; from += BLOCK) {
    const to = Math.min(count, from + BLOCK);
    let [bArea, bDet, bAbs, bx0, by0, bz0] = [0, 0, 0, 0, 0, 0];
    let [bxx, byy, bzz, bxy, byz, bzx] = [0, 0, 0, 0, 0, 0];
    for (let f = from; f < to; f++) {
      const base = 3 * f;
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
      if (normSq <= flatSq * longest * longest) {
        degenerate++;
        if (firstDegenerate.length < NAMED) firstDegenerate.push(base / 3);
      }
      bArea += Math.sqrt(normSq);
      const det = ax * nx + ay * ny + az * nz;
      bDet += det;
      bAbs += det < 0 ? -det : det;
      const sx = ax + bx + cx;
      const sy = ay + by + cy;
      const sz = az + bz + cz;
      bx0 += det * sx;
      by0 += det * sy;
      bz0 += det * sz;
      bxx += det * (ax * ax + bx * bx + cx * cx + sx * sx);
      byy += det * (ay * ay + by * by + cy * cy + sy * sy);
      bzz += det * (az * az + bz * bz + cz * cz + sz * sz);
      bxy += det * (ax * ay + bx * by + cx * cy + sx * sy);
      byz += det * (ay * az + by * bz + cy * cz + sy * sz);
      bzx += det * (az * ax + bz * bx + cz * cx + sz * sx);
    }
    area2 += bArea;
    det6 += bDet;
    abs6 += bAbs;
    mx += bx0;
    my += by0;
    mz += bz0;
    sxx += bxx;
    syy += byy;
    szz += bzz;
    sxy += bxy;
    syz += byz;
    szx += bzx;
  }
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
