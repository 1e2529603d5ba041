/** What decides whether a surface faces along a direction at one of its points. */
export interface Surface {
  /** x, y, z per vertex. */
  readonly positions: ArrayLike<number>;
  readonly triangles: Uint32Array;
  /** Face across the edge from corner k to k + 1, −1 for none. */
  readonly neighbors: Int32Array;
  /** Unit outward normals, 3 per face. */
  readonly normals: Float64Array;
}

export interface FacingAngles {
  readonly cosFacing: number;
  readonly sinFacing: number;
  readonly cosFacingAtEdge: number;
  readonly cosSharp: number;
}

/** Most faces around a vertex that are looked at. */
const largestFan = 64;

/**
 * Whether the surface faces along the unit direction (x, y, z) at a point of face `f`: nowhere around the point does
 * it turn back against the direction (within the facing angle), so that nothing near is nearer to what lies on the
 * other side. On a flat face the direction is then the normal; at a hollow edge or corner it lies between the
 * normals. What is beyond a sharp ridge does not count: there the surface ends, and the direction must be near to
 * the normal of a face that ends.
 */
export function facesAlong(
  surface: Surface,
  f: number,
  point: readonly [number, number, number],
  x: number,
  y: number,
  z: number,
  angles: FacingAngles,
): boolean {
  const { normals, neighbors } = surface;
  if (turnsBack(surface, f, point, x, y, z, angles.sinFacing)) return false;
  const on = edgesAt(surface, f, point);
  if (on === 0) return cosTo(normals, f, x, y, z) > 0;
  const corner = on === 5 ? 0 : on === 3 ? 1 : on === 6 ? 2 : -1;
  let around: Fan;
  if (corner >= 0) around = fanAt(surface, f, corner, angles);
  else {
    const k = on === 1 ? 0 : on === 2 ? 1 : 2;
    const g = neighbors[3 * f + k];
    const ends = g < 0 || isRidge(surface, f, k, angles.cosSharp);
    around = { fan: ends ? [f] : [f, g], ends };
  }
  const { fan, ends } = around;
  if (fan.some(g => turnsBack(surface, g, point, x, y, z, angles.sinFacing))) return false;
  if (ends) return withinNormals(normals, fan, x, y, z, Math.sqrt(1 - angles.cosFacingAtEdge ** 2));
  return fan.some(g => cosTo(normals, g, x, y, z) > 0);
}

function cosTo(normals: Float64Array, f: number, x: number, y: number, z: number): number {
  return normals[3 * f] * x + normals[3 * f + 1] * y + normals[3 * f + 2] * z;
}

/**
 * Whether from a point of a face some way along the face leads against the direction: straight against it when the
 * face holds that way, else along its edges.
 */
function turnsBack(
  { positions: p, triangles: t, normals }: Surface,
  f: number,
  point: readonly [number, number, number],
  x: number,
  y: number,
  z: number,
  sin: number,
): boolean {
  const nx = normals[3 * f];
  const ny = normals[3 * f + 1];
  const nz = normals[3 * f + 2];
  const off = nx * x + ny * y + nz * z;
  if (1 - off * off <= sin * sin) return false;
  // The steepest way against the direction within the face's plane.
  const qx = off * nx - x;
  const qy = off * ny - y;
  const qz = off * nz - z;
  let held = true;
  for (let k = 0; k < 3; k++) {
    const a = 3 * t[3 * f + k];
    const b = 3 * t[3 * f + ((k + 1) % 3)];
    const ex = p[b] - p[a];
    const ey = p[b + 1] - p[a + 1];
    const ez = p[b + 2] - p[a + 2];
    // Into the face, square to the edge.
    const mx = ny * ez - nz * ey;
    const my = nz * ex - nx * ez;
    const mz = nx * ey - ny * ex;
    const dx = p[a] - point[0];
    const dy = p[a + 1] - point[1];
    const dz = p[a + 2] - point[2];
    const along = dx * x + dy * y + dz * z;
    if (along < 0 && along * along > sin * sin * (dx * dx + dy * dy + dz * dz)) return true;
    const onEdge = -(dx * mx + dy * my + dz * mz) <= 1e-6 * (ex * ex + ey * ey + ez * ez);
    if (onEdge && qx * mx + qy * my + qz * mz < 0) held = false;
  }
  return held;
}

/**
 * Whether a direction lies in the cone that some normals span, up to the sine given: the nearest point of the cone is
 * found by coordinate descent over the (not negative) weights of the normals.
 */
function withinNormals(
  normals: Float64Array,
  fan: readonly number[],
  x: number,
  y: number,
  z: number,
  sin: number,
): boolean {
  const weights = new Float64Array(fan.length);
  let rx = x;
  let ry = y;
  let rz = z;
  for (let sweep = 0; sweep < 30; sweep++) {
    let moved = 0;
    for (let i = 0; i < fan.length; i++) {
      const n = 3 * fan[i];
      const step = Math.max(-weights[i], normals[n] * rx + normals[n + 1] * ry + normals[n + 2] * rz);
      weights[i] += step;
      rx -= step * normals[n];
      ry -= step * normals[n + 1];
      rz -= step * normals[n + 2];
      moved = Math.max(moved, Math.abs(step));
    }
    if (rx * rx + ry * ry + rz * rz <= sin * sin) return true;
    if (moved < 1e-6) return false;
  }
  return false;
}

/** Bit k is set when the point lies on the edge from corner k to k + 1, to 1e-6 of the longest edge. */
function edgesAt(
  { positions: p, triangles: t }: Surface,
  f: number,
  point: readonly [number, number, number],
): number {
  let longest = 0;
  for (let k = 0; k < 3; k++) {
    const a = 3 * t[3 * f + k];
    const b = 3 * t[3 * f + ((k + 1) % 3)];
    const ex = p[b] - p[a];
    const ey = p[b + 1] - p[a + 1];
    const ez = p[b + 2] - p[a + 2];
    const dx = point[0] - p[a];
    const dy = point[1] - p[a + 1];
    const dz = point[2] - p[a + 2];
    const square = ex * ex + ey * ey + ez * ez;
    const s = square > 0 ? Math.min(1, Math.max(0, (dx * ex + dy * ey + dz * ez) / square)) : 0;
    gapSq[k] = (dx - s * ex) ** 2 + (dy - s * ey) ** 2 + (dz - s * ez) ** 2;
    if (square > longest) longest = square;
  }
  const near = 1e-12 * longest;
  return (gapSq[0] <= near ? 1 : 0) | (gapSq[1] <= near ? 2 : 0) | (gapSq[2] <= near ? 4 : 0);
}

/** Squared distances of a point from the edges of a face. */
const gapSq = new Float64Array(3);

interface Fan {
  readonly fan: readonly number[];
  /** Whether it ends at sharp ridges or missing faces, rather than going all the way round. */
  readonly ends: boolean;
}

/** The faces around a corner that are joined to f without crossing a sharp ridge. */
function fanAt(surface: Surface, f: number, corner: number, angles: FacingAngles): Fan {
  const { triangles: t, neighbors } = surface;
  const vertex = t[3 * f + corner];
  const fan = [f];
  // Over the edge that leaves the vertex, then, when that ends, over the one that arrives.
  for (const arriving of [false, true]) {
    let face = f;
    while (fan.length < largestFan) {
      let at = 0;
      while (at < 2 && t[3 * face + at] !== vertex) at++;
      const k = arriving ? (at + 2) % 3 : at;
      const next = neighbors[3 * face + k];
      if (next < 0 || isRidge(surface, face, k, angles.cosSharp)) break;
      if (fan.includes(next)) return { fan, ends: false };
      fan.push(next);
      face = next;
    }
  }
  return { fan, ends: true };
}

/** Whether the surface bends away sharply over the edge from corner k of face f. */
export function isRidge(surface: Surface, f: number, k: number, cosSharp: number): boolean {
  const { neighbors, normals: n } = surface;
  const g = neighbors[3 * f + k];
  if (g < 0) return false;
  const cos = n[3 * f] * n[3 * g] + n[3 * f + 1] * n[3 * g + 1] + n[3 * f + 2] * n[3 * g + 2];
  return cos <= cosSharp && bendsAway(surface, f, k, g);
}

/** Whether the surface bends away (a ridge, however slight) over the edge from corner k of face f to face g. */
export function bendsAway(
  { positions: p, triangles: t, normals: n }: Surface,
  f: number,
  k: number,
  g: number,
): boolean {
  const a = 3 * t[3 * f + k];
  const b = 3 * t[3 * f + ((k + 1) % 3)];
  const x = n[3 * f + 1] * n[3 * g + 2] - n[3 * f + 2] * n[3 * g + 1];
  const y = n[3 * f + 2] * n[3 * g] - n[3 * f] * n[3 * g + 2];
  const z = n[3 * f] * n[3 * g + 1] - n[3 * f + 1] * n[3 * g];
  return x * (p[b] - p[a]) + y * (p[b + 1] - p[a + 1]) + z * (p[b + 2] - p[a + 2]) > 0;
}
