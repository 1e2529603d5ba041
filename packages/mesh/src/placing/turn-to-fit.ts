/**
 * By how much an outline must be turned to lie within a rectangle whose sides are along x and y.
 *
 * @remarks The width of a convex outline along a direction is the distance of its two farthest corners along it, and
 *   these stay the same corners between two directions that are square to an edge (M. I. Shamos, Computational Geometry,
 *   1978: antipodal pairs; G. Toussaint, Solving geometric problems with the rotating calipers, 1983). Between two such
 *   directions both widths are a distance times a cosine, so where turns exist that fit, one of them is at the end of
 *   such a range, or where one of the widths is just that of the rectangle. All of these are tried: the answer is exact
 *   but for rounding.
 * @param outline corners of a convex hull, counterclockwise: x, y, x, y …
 * @param slack_mm allowed beyond the rectangle's sides, for rounding
 * @returns degrees from 0 to below 180, counterclockwise; whole ones where one fits; null where none fits
 */
export function turnToFit(
  outline: Float64Array,
  width_mm: number,
  depth_mm: number,
  slack_mm = 0,
): number | null {
  const [width, depth] = [width_mm + slack_mm, depth_mm + slack_mm];
  const fits = (turned: number): boolean =>
    extent(outline, -turned) <= width && extent(outline, Math.PI / 2 - turned) <= depth;
  for (let degrees = 0; degrees < 180; degrees++) if (fits((degrees * Math.PI) / 180)) return degrees;
  const found = exactDirection(outline, width, depth);
  if (found === null) return null;
  const degrees = (((-found * 180) / Math.PI) % 180) + 180;
  return degrees % 180;
}

/** A direction for the rectangle's width, in radians; null where there is none. */
function exactDirection(outline: Float64Array, width: number, depth: number): number | null {
  const ends = directions(outline);
  const [first, second] = [calipers(outline), calipers(outline)];
  for (let k = 0; k < ends.length; k++) {
    const [from, to] = [ends[k], k + 1 < ends.length ? ends[k + 1] : ends[0] + Math.PI];
    const middle = (from + to) / 2;
    const [wide, deep] = [first(middle), second(middle + Math.PI / 2)];
    // d · cos(φ − α) for the width, and the same a quarter turn further for the depth.
    const widthAt = (direction: number): number => wide.length * Math.cos(direction - wide.angle);
    const depthAt = (direction: number): number =>
      deep.length * Math.cos(direction + Math.PI / 2 - deep.angle);
    const candidates = [
      from,
      to,
      ...reaching(wide.length, wide.angle, width, from, to),
      ...reaching(deep.length, deep.angle - Math.PI / 2, depth, from, to),
    ];
    // What is computed to be just the rectangle's side may be beyond it by its rounding.
    const rounding = 1e-12 * (wide.length + deep.length);
    for (const direction of candidates)
      if (widthAt(direction) <= width + rounding && depthAt(direction) <= depth + rounding) return direction;
  }
  return null;
}

/** Where in a range `length · cos(φ − angle)` is just `side`. */
function reaching(length: number, angle: number, side: number, from: number, to: number): number[] {
  if (!(side < length)) return [];
  const half = Math.acos(side / length);
  return [angle - half, angle + half]
    .map(direction => from + wrapped(direction - from))
    .filter(direction => direction <= to);
}

/** Into 0 … 2π. */
function wrapped(angle: number): number {
  const turn = 2 * Math.PI;
  return ((angle % turn) + turn) % turn;
}

/** Directions within half a turn that are square to an edge, or along one, in order. */
function directions(outline: Float64Array): number[] {
  const count = outline.length / 2;
  const found = [0];
  for (let k = 0; k < count; k++) {
    const next = (k + 1) % count;
    const along = Math.atan2(outline[2 * next + 1] - outline[2 * k + 1], outline[2 * next] - outline[2 * k]);
    for (const direction of [along, along + Math.PI / 2]) found.push(wrapped(direction) % Math.PI);
  }
  return found.sort((a, b) => a - b);
}

/** The vector between the two corners that are farthest apart along a direction, asked for in rising order. */
function calipers(outline: Float64Array): (direction: number) => { length: number; angle: number } {
  const count = outline.length / 2;
  let [high, low] = [-1, -1];
  return direction => {
    const [x, y] = [Math.cos(direction), Math.sin(direction)];
    const at = (k: number): number => x * outline[2 * (k % count)] + y * outline[2 * (k % count) + 1];
    if (high < 0) {
      [high, low] = [0, 0];
      for (let k = 1; k < count; k++) {
        if (at(k) > at(high)) high = k;
        if (at(k) < at(low)) low = k;
      }
    }
    for (let k = 0; k < count && at(high + 1) > at(high); k++) high = (high + 1) % count;
    for (let k = 0; k < count && at(low + 1) < at(low); k++) low = (low + 1) % count;
    const [dx, dy] = [0, 1].map(axis => outline[2 * high + axis] - outline[2 * low + axis]);
    return { length: Math.hypot(dx, dy), angle: Math.atan2(dy, dx) };
  };
}

/** The outline's width along a direction. */
function extent(outline: Float64Array, direction: number): number {
  const [x, y] = [Math.cos(direction), Math.sin(direction)];
  let [low, high] = [Infinity, -Infinity];
  for (let k = 0; k < outline.length; k += 2) {
    const at = x * outline[k] + y * outline[k + 1];
    low = Math.min(low, at);
    high = Math.max(high, at);
  }
  return Math.max(0, high - low);
}
