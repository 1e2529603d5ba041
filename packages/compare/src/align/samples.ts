import { seededRandom } from './random.ts';
import type { Surface } from './surface.ts';

/** Points on a surface, in an order whose every beginning is spread over the whole. */
export interface Samples {
  readonly count: number;
  /** 3·count coordinates. */
  readonly points: Float64Array;
  /** 3·count unit normals of the faces the points lie on. */
  readonly normals: Float64Array;
  readonly faces: Uint32Array;
  /** Weight of each point as a share of the area: Σ over a beginning of n points ≈ n. */
  readonly areaWeight: Float64Array;
}

/**
 * Draws `count` points: half of the chance of a face goes by its area, half is the same for every face. By area
 * alone, a small bore in a large plate would hardly ever be hit, and it is just what tells the two sides of the
 * plate apart. Stratified along the face list and deterministic.
 */
export function sampleSurface(surface: Surface, count: number, seed = 1): Samples {
  const { mesh, faceArea, faceNormal, area } = surface;
  const { positions: p, triangles: t } = mesh;
  const random = seededRandom(seed);
  const living = faceArea.reduce((n, a) => n + (a > 0 ? 1 : 0), 0);
  const order = shuffled(count, random);
  const points = new Float64Array(3 * count);
  const normals = new Float64Array(3 * count);
  const faces = new Uint32Array(count);
  const areaWeight = new Float64Array(count);
  let face = -1;
  let reached = 0;
  let chance = 0;
  for (let n = 0; n < count; n += 1) {
    const target = (n + random()) / count;
    while (reached <= target && face + 1 < faceArea.length) {
      face += 1;
      chance = faceArea[face] > 0 ? 0.5 * (faceArea[face] / area) + 0.5 / living : 0;
      reached += chance;
    }
    while (!(faceArea[face] > 0)) face -= 1;
    const at = order[n];
    let u = random();
    let v = random();
    if (u + v > 1) {
      u = 1 - u;
      v = 1 - v;
    }
    const i = 3 * t[3 * face];
    const j = 3 * t[3 * face + 1];
    const k = 3 * t[3 * face + 2];
    for (let c = 0; c < 3; c += 1) {
      points[3 * at + c] = p[i + c] + u * (p[j + c] - p[i + c]) + v * (p[k + c] - p[i + c]);
      normals[3 * at + c] = faceNormal[3 * face + c];
    }
    faces[at] = face;
    areaWeight[at] = faceArea[face] / area / (0.5 * (faceArea[face] / area) + 0.5 / living);
  }
  return { count, points, normals, faces, areaWeight };
}

function shuffled(count: number, random: () => number): Uint32Array {
  const order = Uint32Array.from({ length: count }, (_, k) => k);
  for (let k = count - 1; k > 0; k -= 1) {
    const other = Math.floor(random() * (k + 1));
    const kept = order[k];
    order[k] = order[other];
    order[other] = kept;
  }
  return order;
}
