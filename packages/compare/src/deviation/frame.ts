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
  const ux = t[3] - t[0];
  const uy = t[4] - t[1];
  const uz = t[5] - t[2];
  const wx = t[6] - t[0];
  const wy = t[7] - t[1];
  const wz = t[8] - t[2];
  const lu = Math.sqrt(ux * ux + uy * uy + uz * uz);
  const lw = Math.sqrt(wx * wx + wy * wy + wz * wz);
  const length = Math.max(lu, lw);
  let xx = 1;
  let xy = 0;
  let xz = 0;
  if (length > 0) {
    xx = (lu >= lw ? ux : wx) / length;
    xy = (lu >= lw ? uy : wy) / length;
    xz = (lu >= lw ? uz : wz) / length;
  }
  let zx = uy * wz - uz * wy;
  let zy = uz * wx - ux * wz;
  let zz = ux * wy - uy * wx;
  let lz = Math.sqrt(zx * zx + zy * zy + zz * zz);
  if (!(lz > 1e-12 * lu * lw)) {
    // Any direction square to x: x times the axis that it is farthest from.
    const first = Math.abs(xx) < 0.6;
    zx = first ? 0 : -xz;
    zy = first ? xz : 0;
    zz = first ? -xy : xx;
    lz = Math.sqrt(zx * zx + zy * zy + zz * zz);
  }
  zx /= lz;
  zy /= lz;
  zz /= lz;
  const yx = zy * xz - zz * xy;
  const yy = zz * xx - zx * xz;
  const yz = zx * xy - zy * xx;
  origin[0] = t[0];
  origin[1] = t[1];
  origin[2] = t[2];
  axes[0] = xx;
  axes[1] = xy;
  axes[2] = xz;
  axes[3] = yx;
  axes[4] = yy;
  axes[5] = yz;
  axes[6] = zx;
  axes[7] = zy;
  axes[8] = zz;
  out[0] = out[1] = 0;
  out[2] = ux * xx + uy * xy + uz * xz;
  out[3] = ux * yx + uy * yy + uz * yz;
  out[4] = wx * xx + wy * xy + wz * xz;
  out[5] = wx * yx + wy * yy + wz * yz;
}
