import type { Mesh } from '../types.ts';
import { coordinatesOf, type RoundRegion } from './round-region.ts';
import { distanceFromAxis, fitCylinder } from './cylinder-fit.ts';
import { roundProfile, type RoundProfile } from './round-profile.ts';
import { dot } from './frame.ts';

/** A region with its unrolled profile. */
export interface ProfiledRound {
  readonly region: RoundRegion;
  readonly profile: RoundProfile;
}

/** Ends that wander by more than this share of the diameter were cut by something round or slanted. */
const raggedEnd = 0.03;
/** Widest gap, in diameters, that a cross hole is believed to leave in a bore. */
const crossGap = 1.25;

/**
 * Joins regions that are pieces of one round surface: on the same cylinder and beside each other (a slot or keyway
 * cut it lengthwise), touching, or parted by a short gap between ends that are not flat (a cross hole). Pieces with
 * flat ends and air between are separate: the same pin line through two lugs is two bores.
 *
 * @param distance what counts as exact, mm
 */
export function joinPieces(mesh: Mesh, regions: readonly RoundRegion[], distance: number): ProfiledRound[] {
  let rounds = regions.flatMap(region => profiled(mesh, region));
  rounds.sort((a, b) => b.region.faces.length - a.region.faces.length);
  for (let changed = true; changed;) {
    changed = false;
    const kept: ProfiledRound[] = [];
    for (const round of rounds) {
      let joined = false;
      for (let i = 0; i < kept.length && !joined; i++) {
        if (!onePiece(mesh, kept[i], round, distance)) continue;
        const both = united(mesh, kept[i].region, round.region, distance);
        if (both === null) continue;
        kept[i] = both;
        joined = true;
        changed = true;
      }
      if (!joined) kept.push(round);
    }
    rounds = kept;
  }
  return rounds;
}

function profiled(mesh: Mesh, region: RoundRegion): ProfiledRound[] {
  const profile = roundProfile(mesh, region);
  return profile === null ? [] : [{ region, profile }];
}

function onePiece(mesh: Mesh, a: ProfiledRound, b: ProfiledRound, distance: number): boolean {
  const c = a.region.cylinder;
  const d = b.region.cylinder;
  if (a.region.sense !== b.region.sense) return false;
  if (Math.abs(c.radius - d.radius) > 0.2 * c.radius || Math.abs(dot(c.axis, d.axis)) < 0.95) return false;
  const slack = 20 * distance + 5 * Math.max(a.region.rms, b.region.rms);
  const { positions: p } = mesh;
  const { vertices } = b.region;
  const step = Math.max(1, Math.floor(vertices.length / 50));
  for (let i = 0; i < vertices.length; i += step) {
    const at = 3 * vertices[i];
    if (Math.abs(distanceFromAxis(c, p[at], p[at + 1], p[at + 2]) - c.radius) > slack) return false;
  }
  const shift = dot([d.point[0] - c.point[0], d.point[1] - c.point[1], d.point[2] - c.point[2]], c.axis);
  const same = dot(c.axis, d.axis) > 0;
  const p2 = b.profile;
  const bLow = same ? p2.lowRange : ([-p2.highRange[1], -p2.highRange[0]] as const);
  const bHigh = same ? p2.highRange : ([-p2.lowRange[1], -p2.lowRange[0]] as const);
  return (
    near(a.profile.highRange, [bLow[0] + shift, bLow[1] + shift], c.radius) &&
    near([bHigh[0] + shift, bHigh[1] + shift], a.profile.lowRange, c.radius)
  );
}

/** Whether the end below leaves no gap to the end above, or one that a cross hole explains. */
function near(end: readonly [number, number], start: readonly [number, number], radius: number): boolean {
  const gap = start[0] - end[1];
  if (gap <= 0.02 * radius) return true;
  const ragged = 2 * raggedEnd * radius;
  return gap <= 2 * crossGap * radius && end[1] - end[0] > ragged && start[1] - start[0] > ragged;
}

function united(mesh: Mesh, a: RoundRegion, b: RoundRegion, distance: number): ProfiledRound | null {
  const vertices = Array.from(new Set([...a.vertices, ...b.vertices])).sort((x, y) => x - y);
  const step = Math.ceil(vertices.length / 2000);
  const sample = step > 1 ? vertices.filter((_, i) => i % step === 0) : vertices;
  const fit = fitCylinder(coordinatesOf(mesh.positions, sample), a.cylinder.axis);
  if (fit === null || fit.rms > 2 * distance + 1.3 * Math.max(a.rms, b.rms)) return null;
  const { axis, point, radius, rms, max } = fit;
  const region: RoundRegion = {
    sense: a.sense,
    cylinder: { axis, point, radius },
    faces: [...a.faces, ...b.faces],
    vertices,
    rms,
    max,
    spans: a.spans.length > 0 && b.spans.length > 0 ? [...a.spans, ...b.spans] : [],
  };
  return profiled(mesh, region)[0] ?? null;
}
