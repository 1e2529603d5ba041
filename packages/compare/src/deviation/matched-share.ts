import { closestHit, closestPoint, type Mesh, type TriangleTree } from '@kinprint/mesh';
import { spreadPlace } from './integrate.ts';

/** Points spread evenly over a surface: each stands for the same area. */
export interface SurfacePoints {
  /** 3 per point. */
  readonly points: Float64Array;
  /** The face of each point. */
  readonly faces: Uint32Array;
}

/**
 * `count` points spread over the area of a mesh: one at every area/count along the faces in their order, at a place
 * within the face that `spreadPlace` gives. The same mesh always gives the same points; none for a mesh
 * without area.
 */
export function surfacePoints(mesh: Mesh, count: number): SurfacePoints {
  const { positions: p, triangles } = mesh;
  const areas = new Float64Array(triangles.length / 3);
  let total = 0;
  for (let face = 0; face < areas.length; face++) {
    const a = 3 * triangles[3 * face];
    const b = 3 * triangles[3 * face + 1];
    const c = 3 * triangles[3 * face + 2];
    const ux = p[b] - p[a];
    const uy = p[b + 1] - p[a + 1];
    const uz = p[b + 2] - p[a + 2];
    const wx = p[c] - p[a];
    const wy = p[c + 1] - p[a + 1];
    const wz = p[c + 2] - p[a + 2];
    const area =
      Math.sqrt((uy * wz - uz * wy) ** 2 + (uz * wx - ux * wz) ** 2 + (ux * wy - uy * wx) ** 2) / 2;
    areas[face] = Number.isFinite(area) ? area : 0;
    total += areas[face];
  }
  const points = new Float64Array(3 * count);
  const faces = new Uint32Array(count);
  const place = new Float64Array(3);
  let made = 0;
  let sum = 0;
  for (let face = 0; face < areas.length && total > 0; face++) {
    sum += areas[face];
    for (; made < count && (made + 0.5) * total <= sum * count; made++) {
      spreadPlace(made, place);
      for (let k = 0; k < 3; k++) {
        const a = p[3 * triangles[3 * face] + k];
        const b = p[3 * triangles[3 * face + 1] + k];
        const c = p[3 * triangles[3 * face + 2] + k];
        points[3 * made + k] = place[0] * a + place[1] * b + place[2] * c;
      }
      faces[made] = face;
    }
  }
  return { points: points.slice(0, 3 * made), faces: faces.slice(0, made) };
}

/** An affine map, rows first. */
type Affine = readonly [Row, Row, Row, ...(readonly unknown[])];
type Row = readonly [number, number, number, number];

/**
 * The share of the points, 0…1, that lie within `tolerance_mm` of the surface of a tree, after `motion` when one is
 * given. An estimate: its standard error is about √(share · (1 − share) / points). 0 without points.
 *
 * Stops early, with the share that was reached by then, once `enough` can no longer be reached.
 */
export function matchedShare(
  tree: TriangleTree,
  { points }: SurfacePoints,
  tolerance_mm: number,
  motion: Affine | null = null,
  enough = 0,
): number {
  const count = points.length / 3;
  const hit = closestHit();
  // Just above the square, so that points exactly at the tolerance count.
  const limit = tolerance_mm * tolerance_mm * (1 + 1e-12) + Number.MIN_VALUE;
  const mostMissed = (1 - enough) * count;
  let missed = 0;
  let hint = -1;
  for (let i = 0; i < count; i++) {
    let x = points[3 * i];
    let y = points[3 * i + 1];
    let z = points[3 * i + 2];
    if (motion !== null) {
      const [a, b, c] = motion;
      const px = x;
      const py = y;
      x = a[0] * px + a[1] * py + a[2] * z + a[3];
      y = b[0] * px + b[1] * py + b[2] * z + b[3];
      z = c[0] * px + c[1] * py + c[2] * z + c[3];
    }
    closestPoint(tree, x, y, z, hit, limit, hint);
    if (hit.face >= 0) {
      hint = hit.face;
      continue;
    }
    missed++;
    if (missed > mostMissed) return (i + 1 - missed) / count;
  }
  return count === 0 ? 0 : (count - missed) / count;
}
