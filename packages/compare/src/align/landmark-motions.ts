import type { Vec3 } from '@kinprint/mesh';
import type { Candidate } from './candidates.ts';
import type { Corner, Landmarks, Loop } from './landmarks.ts';
import { multiply3, placementThrough, transpose3, type Placement } from './placement.ts';
import { cross, dot, smallestRotation, subtract, unit } from './rotation.ts';

/** Directions agree within 2°: flat patches keep theirs to float noise, so this is generous. */
const ANGLE = (2 * Math.PI) / 180;
const COSINE = Math.cos(ANGLE);
/** Sizes of outlines count as equal within 2 %: chords of another tessellation take up to that off a round hole. */
const LIKE_SIZE = 0.02;
const CANDIDATES = 3000;

/**
 * Motions that carry landmarks of BEFORE onto landmarks of AFTER: pairs of outlines, corners of three patches.
 * After the point-pair features of Drost, Ulrich, Navab & Ilic, 'Model globally, match locally', CVPR 2010, with
 * the few outlines of flat patches in place of sampled points.
 *
 * @param slack how far places may be off, in mm
 */
export function landmarkMotions(
  before: Landmarks,
  after: Landmarks,
  scale: number,
  slack: number,
): Candidate[] {
  const loops = before.loops.map(l => ({ ...l, at: scaled(l.at, scale), size: l.size * scale }));
  const corners = before.corners.map(c => ({ ...c, at: scaled(c.at, scale) }));
  const found = [...loopMotions(loops, after.loops, slack), ...cornerMotions(corners, after.corners)];
  for (const { placement } of found) {
    for (let r = 0; r < 12; r += 4) for (let k = 0; k < 3; k += 1) placement[r + k] *= scale;
  }
  return found;
}

function scaled(p: Vec3, s: number): Vec3 {
  return [p[0] * s, p[1] * s, p[2] * s];
}

interface LoopPair {
  readonly i: number;
  readonly j: number;
  readonly distance: number;
}

function loopPairs(loops: readonly Loop[], slack: number): LoopPair[] {
  const pairs: LoopPair[] = [];
  loops.forEach((a, i) => {
    loops.forEach((b, j) => {
      if (i === j) return;
      const distance = Math.hypot(...subtract(b.at, a.at));
      if (distance > 4 * slack) pairs.push({ i, j, distance });
    });
  });
  return pairs;
}

function loopMotions(before: readonly Loop[], after: readonly Loop[], slack: number): Candidate[] {
  const bins = new Map<number, LoopPair[]>();
  for (const pair of loopPairs(after, slack)) {
    const bin = Math.floor(pair.distance / slack);
    const list = bins.get(bin);
    if (list === undefined) bins.set(bin, [pair]);
    else list.push(pair);
  }
  const out: Candidate[] = [];
  const pairs = loopPairs(before, slack).filter(p => p.i < p.j);
  pairs.sort((p, q) => worth(before, q) - worth(before, p) || p.i - q.i || p.j - q.j);
  for (const pair of pairs) {
    if (out.length >= CANDIDATES) break;
    const bin = Math.floor(pair.distance / slack);
    for (let b = bin - 1; b <= bin + 1; b += 1) {
      for (const other of bins.get(b) ?? []) {
        if (Math.abs(other.distance - pair.distance) > slack) continue;
        const like = likeness(before[pair.i], after[other.i]) * likeness(before[pair.j], after[other.j]);
        if (like < 0.2) continue;
        const votes = like * worth(before, pair);
        for (const placement of carryPair(before[pair.i], before[pair.j], after[other.i], after[other.j])) {
          out.push({ placement, votes });
        }
      }
    }
  }
  return out;
}

function worth(loops: readonly Loop[], p: LoopPair): number {
  return Math.min(loops[p.i].size, loops[p.j].size) * Math.sqrt(p.distance);
}

/** 1 for equal sizes, less for a bore that may have been reamed, 0 for what was never the same. */
function likeness(a: Loop, b: Loop): number {
  if (a.hole !== b.hole) return 0;
  const ratio = Math.min(a.size, b.size) / Math.max(a.size, b.size);
  return ratio > 1 - LIKE_SIZE ? 1 : ratio > 0.7 ? 0.3 : 0;
}

/** Every motion of the first pair onto the second: one, or two where a reflection would do as well. */
function carryPair(a: Loop, b: Loop, c: Loop, d: Loop): Placement[] {
  const from = unit(subtract(b.at, a.at));
  const to = unit(subtract(d.at, c.at));
  if (from === null || to === null) return [];
  if (Math.abs(Math.acos(clamp(dot(from, a.normal))) - Math.acos(clamp(dot(to, c.normal)))) > ANGLE)
    return [];
  if (Math.abs(Math.acos(clamp(dot(from, b.normal))) - Math.acos(clamp(dot(to, d.normal)))) > ANGLE)
    return [];
  if (Math.abs(Math.acos(clamp(dot(a.normal, b.normal))) - Math.acos(clamp(dot(c.normal, d.normal)))) > ANGLE)
    return [];
  const middle = (p: Vec3, q: Vec3): Vec3 => [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2, (p[2] + q[2]) / 2];
  const place = (l: readonly number[]): Placement =>
    placementThrough(l, middle(a.at, b.at), middle(c.at, d.at));
  // The normal that leans away from the connection fixes the turn about it.
  const first = Math.abs(dot(from, a.normal)) < Math.abs(dot(from, b.normal)) - 1e-6;
  const across = rejected(first ? a.normal : b.normal, from);
  const acrossTo = rejected(first ? c.normal : d.normal, to);
  if (across === null || acrossTo === null) return [place(smallestRotation(from, to))];
  const third = cross(from, across);
  const thirdTo = cross(to, acrossTo);
  const hand = dot(third, first ? b.normal : a.normal);
  const handTo = dot(thirdTo, first ? d.normal : c.normal);
  const frames = (sign: number): Placement =>
    place(
      multiply3(transpose3([...to, ...acrossTo, sign * thirdTo[0], sign * thirdTo[1], sign * thirdTo[2]]), [
        ...from,
        ...across,
        ...third,
      ]),
    );
  const out: Placement[] = [];
  if (Math.abs(hand - handTo) < 2 * ANGLE) out.push(frames(1));
  if (Math.abs(hand + handTo) < 2 * ANGLE) out.push(frames(-1));
  return out;
}

/** The part of a normal at right angles to a direction, as a unit vector; null when there is hardly any. */
function rejected(n: Vec3, d: Vec3): Vec3 | null {
  const along = dot(n, d);
  if (Math.abs(along) > COSINE) return null;
  return unit([n[0] - along * d[0], n[1] - along * d[1], n[2] - along * d[2]]);
}

const turns = [[0, 1, 2], [1, 2, 0], [2, 0, 1], [0, 2, 1], [2, 1, 0], [1, 0, 2]] as const; // prettier-ignore

function cornerMotions(before: readonly Corner[], after: readonly Corner[]): Candidate[] {
  const out: Candidate[] = [];
  for (const a of before) {
    for (const b of after) {
      for (const turn of turns) {
        if (out.length >= CANDIDATES) return out;
        const n = a.normals;
        const m: [Vec3, Vec3, Vec3] = [b.normals[turn[0]], b.normals[turn[1]], b.normals[turn[2]]];
        const alike = [0, 1, 2].every(k => {
          const j = (k + 1) % 3;
          return Math.abs(Math.acos(clamp(dot(n[k], n[j]))) - Math.acos(clamp(dot(m[k], m[j])))) < ANGLE;
        });
        if (!alike) continue;
        const sameHand = dot(cross(n[0], n[1]), n[2]) > 0 === dot(cross(m[0], m[1]), m[2]) > 0;
        const from = basis(n[0], n[1], 1);
        const to = basis(m[0], m[1], sameHand ? 1 : -1);
        if (from === null || to === null) continue;
        const votes = Math.sqrt(Math.min(a.weight, b.weight));
        out.push({ placement: placementThrough(multiply3(transpose3(to), from), a.at, b.at), votes });
      }
    }
  }
  return out;
}

function basis(a: Vec3, b: Vec3, sign: number): number[] | null {
  const second = rejected(b, a);
  if (second === null) return null;
  const third = cross(a, second);
  return [...a, ...second, third[0] * sign, third[1] * sign, third[2] * sign];
}

function clamp(x: number): number {
  return x < -1 ? -1 : x > 1 ? 1 : x;
}
