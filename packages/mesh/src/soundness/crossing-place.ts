import type { Mesh, Vec3 } from '../types.ts';

type Corners = readonly [Vec3, Vec3, Vec3];

/** A point in the middle of what two crossing or overlapping faces have in common (within rounding). */
export function crossingPlace(mesh: Mesh, f: number, g: number): Vec3 {
  const one = corners(mesh, f);
  const two = corners(mesh, g);
  const line = cross(normal(one), normal(two));
  const size = Math.hypot(...normal(one)) * Math.hypot(...normal(two));
  const ends = [...endsOnPlane(one, two), ...endsOnPlane(two, one)];
  if (ends.length < 4 || Math.hypot(...line) <= 1e-9 * size) return middleOfOverlap(one, two);
  // Of the four ends along the common line, the middle two bound the common stretch.
  const sorted = ends.sort((p, q) => dot(p, line) - dot(q, line));
  return mean([sorted[1], sorted[2]]);
}

/** Where the edges of `face` meet the plane of `other`. */
function endsOnPlane(face: Corners, other: Corners): Vec3[] {
  const n = normal(other);
  const heights = face.map(p => dot(minus(p, other[0]), n));
  const ends: Vec3[] = [];
  for (let k = 0; k < 3; k++) {
    const j = (k + 1) % 3;
    if (heights[k] === 0) ends.push(face[k]);
    else if (heights[k] < 0 !== heights[j] < 0 && heights[j] !== 0) {
      const t = heights[k] / (heights[k] - heights[j]);
      ends.push(plus(face[k], minus(face[j], face[k]), t));
    }
  }
  return ends;
}

/** Mean corner of `one` clipped to the prism that stands on `two`. */
function middleOfOverlap(one: Corners, two: Corners): Vec3 {
  const n = normal(two);
  let polygon: Vec3[] = [...one];
  for (let k = 0; k < 3; k++) {
    const inward = cross(n, minus(two[(k + 1) % 3], two[k]));
    const height = (p: Vec3) => dot(minus(p, two[k]), inward);
    polygon = polygon.flatMap((p, i) => {
      const q = polygon[(i + 1) % polygon.length];
      const [hp, hq] = [height(p), height(q)];
      const kept = hp >= 0 ? [p] : [];
      return hp > 0 !== hq > 0 && hp !== 0 && hq !== 0
        ? [...kept, plus(p, minus(q, p), hp / (hp - hq))]
        : kept;
    });
  }
  return mean(polygon.length > 0 ? polygon : [...one, ...two]);
}

function corners({ positions, triangles }: Mesh, face: number): Corners {
  const at = (k: number): Vec3 => {
    const v = 3 * triangles[3 * face + k];
    return [positions[v], positions[v + 1], positions[v + 2]];
  };
  return [at(0), at(1), at(2)];
}

function normal([a, b, c]: Corners): Vec3 {
  return cross(minus(b, a), minus(c, a));
}

function mean(points: readonly Vec3[]): Vec3 {
  return [0, 1, 2].map(k => points.reduce((sum, p) => sum + p[k], 0) / points.length) as unknown as Vec3;
}

function minus(a: Vec3, b: Vec3): Vec3 {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}

function plus(a: Vec3, way: Vec3, t: number): Vec3 {
  return [a[0] + t * way[0], a[1] + t * way[1], a[2] + t * way[2]];
}

function dot(a: Vec3, b: Vec3): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

function cross(a: Vec3, b: Vec3): Vec3 {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}
