/** A triangle's own frame: origin in its first corner, x along its longest edge from there, z along its normal. */
export interface Frame {
  readonly origin: Float64Array;
  /** Unit vectors x, y, z, one after the other. */
  readonly axes: Float64Array;
}

export function emptyFrame(): Frame {
  return { origin: new Float64Array(3), axes: new Float64Array(9) };
}

/**
 * Sets the frame to the triangle with corners `t` (9 numbers) and writes its corners in that plane to `out` (6
 * numbers). A triangle without area gets some plane through its line.
 */
export function setFrame(frame: Frame, t: Float64Array, out: Float64Array): void {
  const { origin, axes } = frame;
  const u = [t[3] - t[0], t[4] - t[1], t[5] - t[2]];
  const w = [t[6] - t[0], t[7] - t[1], t[8] - t[2]];
  const lu = Math.hypot(u[0], u[1], u[2]);
  const lw = Math.hypot(w[0], w[1], w[2]);
  const along = lu >= lw ? u : w;
  const length = Math.max(lu, lw);
  const x = length > 0 ? along.map(value => value / length) : [1, 0, 0];
  let n = cross(u, w);
  let ln = Math.hypot(n[0], n[1], n[2]);
  if (!(ln > 1e-12 * lu * lw)) {
    const axis = Math.abs(x[0]) < 0.6 ? [1, 0, 0] : [0, 1, 0];
    n = cross(x, axis);
    ln = Math.hypot(n[0], n[1], n[2]);
  }
  const z = n.map(value => value / ln);
  const y = cross(z, x);
  for (let k = 0; k < 3; k++) {
    origin[k] = t[k];
    axes[k] = x[k];
    axes[3 + k] = y[k];
    axes[6 + k] = z[k];
  }
  out[0] = out[1] = 0;
  out[2] = dot(u, x);
  out[3] = dot(u, y);
  out[4] = dot(w, x);
  out[5] = dot(w, y);
}

function cross(a: readonly number[], b: readonly number[]): number[] {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}

function dot(a: readonly number[], b: readonly number[]): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
