/**
 * The point that `nearestOnTriangle` looks at, and its answer: x, y, z of the nearest point, then the squared distance.
 * Kept in arrays because numbers handed to a function too large to be inlined are allocated one by one.
 */
export const point = new Float64Array(3);
export const foot = new Float64Array(4);

/**
 * Sine squared of an angle below which a triangle counts as a line: its plane is then known to fewer than 1e-6
 * radians. Taking its edges instead is off by no more than 1e-10 of their length.
 */
const flat = 1e-20;

/** Squared distance from (x, y, z) to the triangle with corners at offsets `a`, `b`, `c` of `v`: see `nearestOnTriangle`. */
export function distanceSqToTriangle(
  v: Float64Array,
  a: number,
  b: number,
  c: number,
  x: number,
  y: number,
  z: number,
): number {
  point[0] = x;
  point[1] = y;
  point[2] = z;
  nearestOnTriangle(v, a, b, c);
  return foot[3];
}

/**
 * Finds the point of a triangle nearest to `point`, and writes it and its squared distance to `foot`.
 *
 * Over the face the distance to the plane, else the least over those edges that the point lies outside of: the
 * nearest part of a convex polygon is seen from the point. The side tests use the normal, whose error grows with
 * distance / height of a needle, not its square as in tests by barycentric coordinates from dot products.
 * Triangles without area are treated as their edges.
 */
export function nearestOnTriangle(v: Float64Array, a: number, b: number, c: number): void {
  const x = point[0];
  const y = point[1];
  const z = point[2];
  const ax = v[a];
  const ay = v[a + 1];
  const az = v[a + 2];
  const ux = v[b] - ax;
  const uy = v[b + 1] - ay;
  const uz = v[b + 2] - az;
  const wx = v[c] - ax;
  const wy = v[c + 1] - ay;
  const wz = v[c + 2] - az;
  const px = x - ax;
  const py = y - ay;
  const pz = z - az;
  const nx = uy * wz - uz * wy;
  const ny = uz * wx - ux * wz;
  const nz = ux * wy - uy * wx;
  const nn = nx * nx + ny * ny + nz * nz;
  const uu = ux * ux + uy * uy + uz * uz;
  const ww = wx * wx + wy * wy + wz * wz;
  // n × p once: the side of edge u is (n × u) · p = −(n × p) · u.
  const kx = ny * pz - nz * py;
  const ky = nz * px - nx * pz;
  const kz = nx * py - ny * px;
  const sideU = -(kx * ux + ky * uy + kz * uz);
  const sideW = kx * wx + ky * wy + kz * wz;
  const solid = nn > flat * uu * ww;
  // The three sides add up to |n|².
  const outU = sideU < 0 || !solid;
  const outW = sideW < 0 || !solid;
  const outV = nn - sideU - sideW < 0 || !solid;
  if (!outU && !outW && !outV) {
    const h = nx * px + ny * py + nz * pz;
    const t = h / nn;
    foot[0] = x - t * nx;
    foot[1] = y - t * ny;
    foot[2] = z - t * nz;
    foot[3] = h * t;
    return;
  }
  let best = Infinity;
  let fx = 0;
  let fy = 0;
  let fz = 0;
  if (outU) {
    const along = ux * px + uy * py + uz * pz;
    const t = along <= 0 ? 0 : along >= uu ? 1 : along / uu;
    fx = t * ux;
    fy = t * uy;
    fz = t * uz;
    best = (px - fx) ** 2 + (py - fy) ** 2 + (pz - fz) ** 2;
  }
  if (outW) {
    const along = wx * px + wy * py + wz * pz;
    const t = along <= 0 ? 0 : along >= ww ? 1 : along / ww;
    const gx = t * wx;
    const gy = t * wy;
    const gz = t * wz;
    const d = (px - gx) ** 2 + (py - gy) ** 2 + (pz - gz) ** 2;
    if (d < best) {
      best = d;
      fx = gx;
      fy = gy;
      fz = gz;
    }
  }
  if (outV) {
    const ex = wx - ux;
    const ey = wy - uy;
    const ez = wz - uz;
    const ee = ex * ex + ey * ey + ez * ez;
    const along = ex * (px - ux) + ey * (py - uy) + ez * (pz - uz);
    const t = along <= 0 ? 0 : along >= ee ? 1 : along / ee;
    const gx = ux + t * ex;
    const gy = uy + t * ey;
    const gz = uz + t * ez;
    const d = (px - gx) ** 2 + (py - gy) ** 2 + (pz - gz) ** 2;
    if (d < best) {
      best = d;
      fx = gx;
      fy = gy;
      fz = gz;
    }
  }
  foot[0] = ax + fx;
  foot[1] = ay + fy;
  foot[2] = az + fz;
  foot[3] = best;
}
