import type { Vec3 } from '@kinprint/mesh';
import { findFacets, type Facet, type Facets } from './facets.ts';
import { cross, dot } from './rotation.ts';
import type { Surface } from './surface.ts';

/** The outline of a flat patch, or of a hole in it: a place with a direction and a size that survive a new triangulation. */
export interface Loop {
  /** Middle of the area that the outline encloses; the center for a round hole however many sides it has. */
  readonly at: Vec3;
  /** Outward normal of the patch. */
  readonly normal: Vec3;
  /** Root of the enclosed area, in mm. */
  readonly size: number;
  readonly hole: boolean;
}

/** A vertex where three flat patches meet. */
export interface Corner {
  readonly at: Vec3;
  readonly normals: readonly [Vec3, Vec3, Vec3];
  /** Area of the smallest of the three patches. */
  readonly weight: number;
}

export interface Landmarks {
  readonly loops: readonly Loop[];
  readonly corners: readonly Corner[];
}

const LOOPS = 48;
const CORNERS = 32;

export function findLandmarks(surface: Surface): Landmarks {
  const facets = findFacets(surface);
  const loops = facets.list.flatMap((facet, k) => outlines(surface, facets, facet, k));
  loops.sort((a, b) => b.size - a.size);
  return { loops: pickLoops(loops), corners: findCorners(surface, facets) };
}

/** Half of the places for the largest outlines, half for the largest holes: bores are small but telling. */
function pickLoops(loops: readonly Loop[]): Loop[] {
  const holes = loops.filter(l => l.hole).slice(0, LOOPS / 2);
  return [...loops.filter(l => !l.hole).slice(0, LOOPS - holes.length), ...holes];
}

function outlines({ mesh }: Surface, { facetOf, adjacency }: Facets, facet: Facet, label: number): Loop[] {
  const { positions: p, triangles: t } = mesh;
  const leaving = new Map<number, number[]>();
  for (const f of facet.faces) {
    for (let e = 0; e < 3; e += 1) {
      const g = adjacency[3 * f + e];
      if (g >= 0 && facetOf[g] === label) continue;
      const from = t[3 * f + e];
      const to = t[3 * f + ((e + 1) % 3)];
      const list = leaving.get(from);
      if (list === undefined) leaving.set(from, [to]);
      else list.push(to);
    }
  }
  const loops: Loop[] = [];
  for (const start of leaving.keys()) {
    for (;;) {
      const loop = walk(leaving, start);
      if (loop === null) break;
      const made = loopOf(p, loop, facet.normal);
      if (made !== null) loops.push(made);
    }
  }
  return loops;
}

/** Follows the edges from a vertex until it comes back, using them up; null when none leaves it. */
function walk(leaving: Map<number, number[]>, start: number): number[] | null {
  const loop: number[] = [];
  let at = start;
  do {
    const to = leaving.get(at)?.pop();
    if (to === undefined) return loop.length > 2 ? loop : null;
    loop.push(at);
    at = to;
  } while (at !== start);
  return loop;
}

function loopOf(p: ArrayLike<number>, loop: readonly number[], normal: Vec3): Loop | null {
  const o = 3 * loop[0];
  let area = 0;
  const sum = [0, 0, 0];
  for (let k = 1; k + 1 < loop.length; k += 1) {
    const i = 3 * loop[k];
    const j = 3 * loop[k + 1];
    const u: Vec3 = [p[i] - p[o], p[i + 1] - p[o + 1], p[i + 2] - p[o + 2]];
    const v: Vec3 = [p[j] - p[o], p[j + 1] - p[o + 1], p[j + 2] - p[o + 2]];
    const a = dot(cross(u, v), normal) / 2;
    area += a;
    for (let c = 0; c < 3; c += 1) sum[c] += (a * (u[c] + v[c])) / 3;
  }
  if (!(Math.abs(area) > 0)) return null;
  return {
    at: [p[o] + sum[0] / area, p[o + 1] + sum[1] / area, p[o + 2] + sum[2] / area],
    normal,
    size: Math.sqrt(Math.abs(area)),
    hole: area < 0,
  };
}

function findCorners({ mesh }: Surface, { list }: Facets): Corner[] {
  const { positions: p, triangles: t } = mesh;
  const touching = new Map<number, number[]>();
  list.forEach((facet, label) => {
    for (const f of facet.faces) {
      for (let c = 0; c < 3; c += 1) {
        const v = t[3 * f + c];
        const labels = touching.get(v);
        if (labels === undefined) touching.set(v, [label]);
        else if (!labels.includes(label)) labels.push(label);
      }
    }
  });
  const corners: Corner[] = [];
  for (const [v, labels] of touching) {
    if (labels.length < 3) continue;
    const [i, j, k] = bestThree(labels.slice(0, 6), list);
    if (i < 0) continue;
    const normals: [Vec3, Vec3, Vec3] = [list[i].normal, list[j].normal, list[k].normal];
    corners.push({
      at: [p[3 * v], p[3 * v + 1], p[3 * v + 2]],
      normals,
      weight: list[Math.max(i, j, k)].area,
    });
  }
  return corners.sort((a, b) => b.weight - a.weight).slice(0, CORNERS);
}

/** The three patches that stand most squarely to each other, larger ones (smaller index) first; −1 when all are flat to each other. */
function bestThree(labels: readonly number[], list: readonly Facet[]): [number, number, number] {
  let best: [number, number, number] = [-1, -1, -1];
  let most = 0.2;
  const sorted = [...labels].sort((a, b) => a - b);
  for (let a = 0; a < sorted.length; a += 1) {
    for (let b = a + 1; b < sorted.length; b += 1) {
      for (let c = b + 1; c < sorted.length; c += 1) {
        const [i, j, k] = [sorted[a], sorted[b], sorted[c]];
        const volume = Math.abs(dot(cross(list[i].normal, list[j].normal), list[k].normal));
        if (volume > most + 1e-3) {
          most = volume;
          best = [i, j, k];
        }
      }
    }
  }
  return best;
}
