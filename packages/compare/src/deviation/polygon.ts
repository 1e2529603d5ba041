/** Most corners that a convex polygon of the cover may have. */
export const maxCorners = 30;
/** Places per polygon in a `PolygonStack`: x and y of each corner. */
export const stride = 2 * (maxCorners + 2);

/** Convex polygons in one plane, one after the other, `stride` numbers each. */
export interface PolygonStack {
  readonly points: Float64Array;
  readonly corners: Int32Array;
  /** One number: how near to a line a corner counts as on it. */
  readonly slack: Float64Array;
}

export function polygonStack(capacity: number): PolygonStack {
  return {
    points: new Float64Array(stride * capacity),
    corners: new Int32Array(capacity),
    slack: new Float64Array(1),
  };
}

/**
 * Cuts polygon `from` along the line that stands at `at` in `lines`: inward unit normal n and offset, n · p = offset.
 * What lies inside goes to `inside`, the rest to `outside`; neither may be `from`. Corners within the slack of the line count
 * as on it and go wherever the others are. A side without area gets 0 corners.
 *
 * Returns whether anything remains inside.
 */
export function cut(
  stack: PolygonStack,
  from: number,
  inside: number,
  outside: number,
  lines: Float64Array,
  at: number,
): boolean {
  const { points, corners } = stack;
  const nx = lines[at];
  const ny = lines[at + 1];
  const offset = lines[at + 2];
  const slack = stack.slack[0];
  const n = corners[from];
  const base = from * stride;
  let deepest = -Infinity;
  let farthest = Infinity;
  for (let i = 0; i < n; i++) {
    const side = nx * points[base + 2 * i] + ny * points[base + 2 * i + 1] - offset;
    if (side > deepest) deepest = side;
    if (side < farthest) farthest = side;
  }
  if (farthest >= -slack) {
    copy(stack, from, inside);
    corners[outside] = 0;
    return true;
  }
  if (deepest <= slack) {
    copy(stack, from, outside);
    corners[inside] = 0;
    return false;
  }
  let ins = inside * stride;
  let outs = outside * stride;
  let px = points[base + 2 * n - 2];
  let py = points[base + 2 * n - 1];
  let before = nx * px + ny * py - offset;
  for (let i = 0; i < n; i++) {
    const x = points[base + 2 * i];
    const y = points[base + 2 * i + 1];
    const side = nx * x + ny * y - offset;
    if ((before > slack && side < -slack) || (before < -slack && side > slack)) {
      const t = before / (before - side);
      points[ins++] = points[outs++] = px + t * (x - px);
      points[ins++] = points[outs++] = py + t * (y - py);
    }
    if (side >= -slack) {
      points[ins++] = x;
      points[ins++] = y;
    }
    if (side <= slack) {
      points[outs++] = x;
      points[outs++] = y;
    }
    px = x;
    py = y;
    before = side;
  }
  corners[inside] = (ins - inside * stride) >> 1;
  corners[outside] = (outs - outside * stride) >> 1;
  return true;
}

export function copy(stack: PolygonStack, from: number, to: number): void {
  const { points, corners } = stack;
  if (from === to) return;
  const n = corners[from];
  corners[to] = n;
  for (let i = 0, a = from * stride, b = to * stride; i < 2 * n; i++) points[b + i] = points[a + i];
}

/** Writes the mean of the corners of a polygon, a point of it, to `out`; returns the greatest distance of a corner from it. */
export function middleOf(stack: PolygonStack, polygon: number, out: Float64Array): number {
  const { points } = stack;
  const n = stack.corners[polygon];
  let x = 0;
  let y = 0;
  for (let i = polygon * stride, end = i + 2 * n; i < end; i += 2) {
    x += points[i];
    y += points[i + 1];
  }
  x /= n;
  y /= n;
  let radiusSq = 0;
  for (let i = polygon * stride, end = i + 2 * n; i < end; i += 2) {
    radiusSq = Math.max(radiusSq, (points[i] - x) ** 2 + (points[i + 1] - y) ** 2);
  }
  out[0] = x;
  out[1] = y;
  return Math.sqrt(radiusSq);
}
