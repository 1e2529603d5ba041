import type { Vec3 } from '@kinprint/mesh';
import type { Candidate } from './candidates.ts';
import { multiply3, placementThrough, transpose3, type Placement } from './placement.ts';
import { cross, dot, subtract, unit } from './rotation.ts';
import type { Surface } from './surface.ts';
import { triangleClasses, type TriangleClass } from './triangle-classes.ts';

const CLASSES = 60;
const PAIRS_PER_CLASS = 128;
const PAIRS_OF_CROWDED_CLASS = 512;
const MEMBERS_OF_BEFORE = 2;

/**
 * Motions that carry a triangle of BEFORE onto a congruent one of AFTER. Rare and large triangles speak loudest.
 * Whatever part of the triangulation a rework has left alone finds its way home by this, in linear time.
 *
 * @param scale BEFORE is thought scaled by this factor; the placements include it
 * @param noise rounding of coordinates in AFTER's frame
 */
export function triangleMotions(before: Surface, after: Surface, scale: number, noise: number): Candidate[] {
  const quantum = Math.max(64 * noise, 4e-6 * after.diagonal);
  const classes = triangleClasses(before, after, scale, quantum);
  const ranked = classes
    .map(c => ({ c, worth: (c.area * shape(before, c.before[0])) / c.pairs }))
    .sort((p, q) => q.worth - p.worth || p.c.before[0] - q.c.before[0])
    .slice(0, CLASSES);
  const out: Candidate[] = [];
  ranked.forEach(({ c }, rank) => {
    // When even the best class is crowded (regular tilings), list it fully: one of its pairs is right.
    const limit = rank === 0 ? PAIRS_OF_CROWDED_CLASS : PAIRS_PER_CLASS;
    out.push(...classMotions(before, after, c, scale, 3 * quantum, limit));
  });
  return out;
}

/** Every motion that carries the first members of the class in BEFORE onto any of its members in AFTER. */
export function classMotions(
  before: Surface,
  after: Surface,
  c: TriangleClass,
  scale: number,
  slack: number,
  limit: number,
): Candidate[] {
  const out: Candidate[] = [];
  const froms = c.before.slice(
    0,
    c.before.length * c.after.length <= limit ? c.before.length : MEMBERS_OF_BEFORE,
  );
  const vote = c.area / (froms.length * c.after.length);
  for (const f of froms) {
    const a = corners(before, f, scale);
    for (const g of c.after) {
      if (out.length >= 4 * limit) return out;
      const b = corners(after, g, 1);
      for (const order of orders) {
        const q: Vec3[] = [b[order[0]], b[order[1]], b[order[2]]];
        if (!congruent(a, q, slack)) continue;
        for (const side of [1, -1]) {
          const placement = carry(a, q, normalOf(before, f), normalOf(after, g), side, scale);
          if (placement !== null) out.push({ placement, votes: side > 0 ? vote : vote / 2 });
        }
      }
    }
  }
  return out;
}

const orders = [[0, 1, 2], [1, 2, 0], [2, 0, 1], [0, 2, 1], [2, 1, 0], [1, 0, 2]]; // prettier-ignore

/**
 * The motion that takes corners `a` to corners `q` and the outside to the outside (side 1) or to the inside (−1,
 * for a mesh that comes inside out). A reflection results when the corners run the other way round.
 */
function carry(a: Vec3[], q: Vec3[], na: Vec3, nq: Vec3, side: number, scale: number): Placement | null {
  const from = frame(a, na);
  const to = frame(q, [nq[0] * side, nq[1] * side, nq[2] * side]);
  if (from === null || to === null) return null;
  const rotation = multiply3(transpose3(to), from);
  const middleA = middle(a);
  const placed = placementThrough(rotation, middleA, middle(q));
  // `a` was scaled about the origin.
  for (let r = 0; r < 3; r += 1) for (let k = 0; k < 3; k += 1) placed[4 * r + k] *= scale;
  return placed;
}

/** Rows: along the first edge, in the plane toward the third corner, the normal. */
function frame(p: Vec3[], normal: Vec3): number[] | null {
  const e1 = unit(subtract(p[1], p[0]));
  if (e1 === null) return null;
  const toThird = subtract(p[2], p[0]);
  const along = dot(toThird, e1);
  const across = unit([toThird[0] - along * e1[0], toThird[1] - along * e1[1], toThird[2] - along * e1[2]]);
  if (across === null) return null;
  // The stored normal only tells the side: the exact one follows from the edges.
  const exact = cross(e1, across);
  const sign = dot(exact, normal) < 0 ? -1 : 1;
  return [...e1, ...across, exact[0] * sign, exact[1] * sign, exact[2] * sign];
}

function congruent(a: Vec3[], q: Vec3[], slack: number): boolean {
  for (let k = 0; k < 3; k += 1) {
    const j = (k + 1) % 3;
    if (Math.abs(Math.hypot(...subtract(a[k], a[j])) - Math.hypot(...subtract(q[k], q[j]))) > slack)
      return false;
  }
  return true;
}

function middle(p: Vec3[]): Vec3 {
  return [
    (p[0][0] + p[1][0] + p[2][0]) / 3,
    (p[0][1] + p[1][1] + p[2][1]) / 3,
    (p[0][2] + p[1][2] + p[2][2]) / 3,
  ];
}

function corners({ mesh }: Surface, f: number, scale: number): Vec3[] {
  const { positions: p, triangles: t } = mesh;
  return [0, 1, 2].map(k => {
    const v = 3 * t[3 * f + k];
    return [p[v] * scale, p[v + 1] * scale, p[v + 2] * scale];
  });
}

function normalOf({ faceNormal }: Surface, f: number): Vec3 {
  return [faceNormal[3 * f], faceNormal[3 * f + 1], faceNormal[3 * f + 2]];
}

/** Height over longest edge: needles tell directions badly. */
function shape(surface: Surface, f: number): number {
  const p = corners(surface, f, 1);
  const longest = Math.max(...[0, 1, 2].map(k => Math.hypot(...subtract(p[k], p[(k + 1) % 3]))));
  return (2 * surface.faceArea[f]) / (longest * longest);
}
