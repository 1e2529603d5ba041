/** A ray prepared for the triangle test: axes permuted so that the direction is longest along `kz`, and sheared. */
export interface Ray {
  x: number;
  y: number;
  z: number;
  /** Reciprocals of the direction, finite also where it is 0. */
  invX: number;
  invY: number;
  invZ: number;
  kx: number;
  ky: number;
  kz: number;
  shearX: number;
  shearY: number;
  scale: number;
}

/** A ray to hand to `setRay`. */
export function emptyRay(): Ray {
  return {
    x: 0.5,
    y: 0.5,
    z: 0.5,
    invX: 0.5,
    invY: 0.5,
    invZ: 0.5,
    kx: 0,
    ky: 0,
    kz: 0,
    shearX: 0.5,
    shearY: 0.5,
    scale: 0.5,
  };
}

/** Aims `ray`; the direction need not be of unit length, but must not be zero. */
export function setRay(ray: Ray, x: number, y: number, z: number, dx: number, dy: number, dz: number): void {
  ray.x = x;
  ray.y = y;
  ray.z = z;
  ray.invX = reciprocal(dx);
  ray.invY = reciprocal(dy);
  ray.invZ = reciprocal(dz);
  const ax = Math.abs(dx);
  const ay = Math.abs(dy);
  const az = Math.abs(dz);
  const kz = ax > ay ? (ax > az ? 0 : 2) : ay > az ? 1 : 2;
  const along = kz === 0 ? dx : kz === 1 ? dy : dz;
  let kx = (kz + 1) % 3;
  let ky = (kz + 2) % 3;
  // Keeps the winding, so that the sign of the determinant tells front from back.
  if (along < 0) [kx, ky] = [ky, kx];
  ray.kx = kx;
  ray.ky = ky;
  ray.kz = kz;
  ray.shearX = (kx === 0 ? dx : kx === 1 ? dy : dz) / along;
  ray.shearY = (ky === 0 ? dx : ky === 1 ? dy : dz) / along;
  ray.scale = 1 / along;
}

function reciprocal(value: number): number {
  return 1 / (Math.abs(value) > 1e-200 ? value : value < 0 ? -1e-200 : 1e-200);
}

/**
 * The parameter range in which a ray crosses the box at offset `o`: entry, or Infinity when it misses it or the box
 * lies beyond `tMax`. (x, y, z) is the origin relative to the tree's center.
 */
export function enterBox(
  ray: Ray,
  x: number,
  y: number,
  z: number,
  boxes: Float32Array,
  o: number,
  tMax: number,
): number {
  const ax = (boxes[o] - x) * ray.invX;
  const bx = (boxes[o + 3] - x) * ray.invX;
  const ay = (boxes[o + 1] - y) * ray.invY;
  const by = (boxes[o + 4] - y) * ray.invY;
  const az = (boxes[o + 2] - z) * ray.invZ;
  const bz = (boxes[o + 5] - z) * ray.invZ;
  const enter = Math.max(Math.min(ax, bx), Math.min(ay, by), Math.min(az, bz), 0);
  const leave = Math.min(Math.max(ax, bx), Math.max(ay, by), Math.max(az, bz), tMax);
  return enter <= leave ? enter : Infinity;
}

/** What the last `meetTriangle` found. */
export const meeting = {
  /** Ray parameter, in lengths of the direction; may be negative. */
  t: 0.5,
  /** 1 when the ray comes from the side the normal points to, −1 from the other. */
  side: 0,
  /** The ray passes so near an edge or corner, or so flat, that rounding decides. */
  doubtful: false,
};

/** Rounding of the edge tests, relative to the square of the largest coordinate: a few dozen units in the last place. */
const rounding = 1e-14;

/**
 * Watertight test of a ray's line against a triangle: a line through a shared edge or corner meets at least one of
 * the faces there (Woop, Benthin, Wald 2013, "Watertight ray/triangle intersection", JCGT 2(1):65–82).
 *
 * Returns whether they meet; the rest is in `meeting`. `doubtful` is also set when they just miss.
 */
export function meetTriangle(ray: Ray, v: Float64Array, a: number, b: number, c: number): boolean {
  const { kx, ky, kz, shearX, shearY } = ray;
  const ox = kx === 0 ? ray.x : kx === 1 ? ray.y : ray.z;
  const oy = ky === 0 ? ray.x : ky === 1 ? ray.y : ray.z;
  const oz = kz === 0 ? ray.x : kz === 1 ? ray.y : ray.z;
  const az = v[a + kz] - oz;
  const bz = v[b + kz] - oz;
  const cz = v[c + kz] - oz;
  const ax = v[a + kx] - ox - shearX * az;
  const ay = v[a + ky] - oy - shearY * az;
  const bx = v[b + kx] - ox - shearX * bz;
  const by = v[b + ky] - oy - shearY * bz;
  const cx = v[c + kx] - ox - shearX * cz;
  const cy = v[c + ky] - oy - shearY * cz;
  const u = cx * by - cy * bx;
  const w = bx * ay - by * ax;
  const e = ax * cy - ay * cx;
  const least = Math.min(u, e, w);
  const most = Math.max(u, e, w);
  meeting.doubtful = false;
  const missed = least < 0 && most > 0;
  if (missed && Math.min(-least, most) > 1e-3 * Math.max(-least, most)) return false;
  const near = Math.max(Math.abs(ax), Math.abs(ay), Math.abs(bx), Math.abs(by), Math.abs(cx), Math.abs(cy));
  const reach = Math.max(Math.abs(az), Math.abs(bz), Math.abs(cz), near);
  const error = rounding * near * reach;
  if (missed) {
    meeting.doubtful = Math.min(-least, most) <= error;
    return false;
  }
  meeting.doubtful = Math.min(Math.abs(u), Math.abs(e), Math.abs(w)) <= error;
  const sum = u + e + w;
  if (sum === 0) return false;
  meeting.t = ((u * az + e * bz + w * cz) * ray.scale) / sum;
  meeting.side = sum > 0 ? 1 : -1;
  return true;
}
