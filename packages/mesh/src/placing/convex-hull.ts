/**
 * The corners of the convex hull of points in a plane, counterclockwise, without those within an edge.
 *
 * @remarks A. M. Andrew, Another efficient algorithm for convex hulls in two dimensions, Information Processing
 *   Letters 9 (1979), 216–219.
 * @param points x, y, x, y …; finite
 * @returns likewise; one corner for points that are all the same, two for points on a line
 */
export function convexHull(points: Float64Array): Float64Array {
  const order = Uint32Array.from({ length: points.length / 2 }, (_, k) => k);
  order.sort((a, b) => points[2 * a] - points[2 * b] || points[2 * a + 1] - points[2 * b + 1]);
  const hull: number[] = [];
  const add = (point: number, from: number): void => {
    while (hull.length > from + 1 && turn(points, hull[hull.length - 2], hull[hull.length - 1], point) <= 0)
      hull.pop();
    hull.push(point);
  };
  for (const point of order) add(point, 0);
  const upper = hull.length - 1;
  for (let k = order.length - 2; k >= 0; k--) add(order[k], upper);
  // The first was reached again.
  if (hull.length > 1) hull.pop();
  const corners = new Float64Array(2 * hull.length);
  hull.forEach((point, k) => corners.set([points[2 * point], points[2 * point + 1]], 2 * k));
  return distinct(corners);
}

/** Twice the area of a triangle; above 0 where it turns to the left. */
function turn(points: Float64Array, a: number, b: number, c: number): number {
  const [x, y] = [points[2 * a], points[2 * a + 1]];
  return (points[2 * b] - x) * (points[2 * c + 1] - y) - (points[2 * b + 1] - y) * (points[2 * c] - x);
}

/** Points that are all the same leave it twice. */
function distinct(corners: Float64Array): Float64Array {
  if (corners.length !== 4 || corners[0] !== corners[2] || corners[1] !== corners[3]) return corners;
  return corners.slice(0, 2);
}
