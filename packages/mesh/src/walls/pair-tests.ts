/** Three offsets into an array of coordinates. */
export type Corners = readonly [number, number, number];

export function touching(a: Corners, b: Corners): boolean {
  for (let i = 0; i < 3; i++) if (a[i] === b[0] || a[i] === b[1] || a[i] === b[2]) return true;
  return false;
}

/**
 * Whether triangle `other` lies wholly in front of the plane of face `f` (then only air is between them), or so far
 * behind it that no point is nearer than the bound.
 */
export function behind(
  v: Float64Array,
  normals: Float64Array,
  f: number,
  own: Corners,
  other: Corners,
  bound: number,
): boolean {
  const nx = normals[3 * f];
  const ny = normals[3 * f + 1];
  const nz = normals[3 * f + 2];
  let least = Infinity;
  let most = -Infinity;
  for (let k = 0; k < 3; k++) {
    const height =
      nx * (v[own[0]] - v[other[k]]) +
      ny * (v[own[0] + 1] - v[other[k] + 1]) +
      nz * (v[own[0] + 2] - v[other[k] + 2]);
    if (height < least) least = height;
    if (height > most) most = height;
  }
  return most <= 0 || least >= bound;
}

/**
 * Whether all of triangle `other` lies beside an edge of face `f`, farther off than `aside`: seen along the normal,
 * it is not over the face.
 */
export function beside(
  v: Float64Array,
  normals: Float64Array,
  f: number,
  own: Corners,
  other: Corners,
  aside: number,
): boolean {
  const nx = normals[3 * f];
  const ny = normals[3 * f + 1];
  const nz = normals[3 * f + 2];
  for (let k = 0; k < 3; k++) {
    const a = own[k];
    const b = own[k === 2 ? 0 : k + 1];
    const ex = v[b] - v[a];
    const ey = v[b + 1] - v[a + 1];
    const ez = v[b + 2] - v[a + 2];
    // Out of the face, square to the edge, as long as the edge.
    const mx = ey * nz - ez * ny;
    const my = ez * nx - ex * nz;
    const mz = ex * ny - ey * nx;
    const from = mx * v[a] + my * v[a + 1] + mz * v[a + 2];
    const least = Math.min(
      mx * v[other[0]] + my * v[other[0] + 1] + mz * v[other[0] + 2],
      mx * v[other[1]] + my * v[other[1] + 1] + mz * v[other[1] + 2],
      mx * v[other[2]] + my * v[other[2] + 1] + mz * v[other[2] + 2],
    );
    if (least - from > aside * Math.sqrt(mx * mx + my * my + mz * mz)) return true;
  }
  return false;
}
