import type { Vec3 } from '@kinprint/mesh';
import type { Surface } from './surface.ts';
import {
  applyPlacement,
  composePlacements,
  determinantOf,
  isFinitePlacement,
  type Placement,
} from './placement.ts';

/** A placement worth trying, and how much speaks for it. */
export interface Candidate {
  readonly placement: Placement;
  /** Weight of the evidence, comparable within one source only. */
  readonly votes: number;
}

/**
 * Gathers placements that differ by less than `reach` anywhere on BEFORE's bounds into one, adding their votes;
 * each group keeps its best-founded member. Greatest votes first, at most `limit`.
 */
export function clusterCandidates(
  candidates: readonly Candidate[],
  before: Surface,
  reach: number,
  limit: number,
): Candidate[] {
  const ordered = candidates
    .filter(c => isFinitePlacement(c.placement))
    .map((c, k) => ({ c, k }))
    .sort((a, b) => b.c.votes - a.c.votes || a.k - b.k)
    .map(entry => entry.c);
  const probes = probePoints(before);
  const groups: { images: Float64Array; placement: Placement; votes: number }[] = [];
  const grid = new Map<number, number[]>();
  const cell = 16 * reach;
  for (const { placement, votes } of ordered) {
    const images = new Float64Array(12);
    probes.forEach((p, k) => images.set(applyPlacement(placement, p), 3 * k));
    let group: (typeof groups)[number] | undefined;
    for (const key of keysAround(images, cell, reach)) {
      for (const g of grid.get(key) ?? []) {
        if (near(groups[g].images, images, reach)) group = groups[g];
      }
      if (group !== undefined) break;
    }
    if (group !== undefined) {
      group.votes += votes;
      continue;
    }
    const key = keyOf(images, cell);
    const list = grid.get(key);
    if (list === undefined) grid.set(key, [groups.length]);
    else list.push(groups.length);
    groups.push({ images, placement, votes });
  }
  groups.sort((a, b) => b.votes - a.votes);
  return groups.slice(0, limit).map(({ placement, votes }) => ({ placement, votes }));
}

/** Whether two placements differ by less than `reach` on BEFORE's bounds. */
export function samePlacement(a: Placement, b: Placement, before: Surface, reach: number): boolean {
  return probePoints(before).every(p => {
    const x = applyPlacement(a, p);
    const y = applyPlacement(b, p);
    return Math.hypot(x[0] - y[0], x[1] - y[1], x[2] - y[2]) < reach;
  });
}

/** Scaling about BEFORE's center by `s`, then `after`. */
export function scaledFirst(after: Placement, s: number, center: Vec3): Placement {
  const first = Float64Array.of(
    s,
    0,
    0,
    center[0] * (1 - s),
    0,
    s,
    0,
    center[1] * (1 - s),
    0,
    0,
    s,
    center[2] * (1 - s),
  );
  return composePlacements(after, first);
}

export function isMirrored(m: Placement): boolean {
  return determinantOf(m) < 0;
}

function probePoints({ center, diagonal }: Surface): Vec3[] {
  const r = diagonal / 2;
  return [
    center,
    [center[0] + r, center[1], center[2]],
    [center[0], center[1] + r, center[2]],
    [center[0], center[1], center[2] + r],
  ];
}

function near(a: Float64Array, b: Float64Array, reach: number): boolean {
  for (let k = 0; k < 12; k += 1) if (Math.abs(a[k] - b[k]) > reach) return false;
  return true;
}

/** The grid is over the images of the first two probes' sum: one point in space, enough to spread the groups. */
function anchor(images: Float64Array): Vec3 {
  return [
    images[0] + 0.61 * images[3] + 0.37 * images[6],
    images[1] + 0.61 * images[4] + 0.37 * images[7],
    images[2] + 0.61 * images[5] + 0.37 * images[8],
  ];
}
function keyOf(images: Float64Array, cell: number): number {
  const a = anchor(images);
  return cellKey(Math.floor(a[0] / cell), Math.floor(a[1] / cell), Math.floor(a[2] / cell));
}
function cellKey(x: number, y: number, z: number): number {
  return (Math.imul(x, 73856093) ^ Math.imul(y, 19349663) ^ Math.imul(z, 83492791)) >>> 0;
}
/** The cells that hold anything within reach: up to eight, mostly one. */
function keysAround(images: Float64Array, cell: number, reach: number): number[] {
  const a = anchor(images);
  const low = a.map(v => Math.floor((v - 2 * reach) / cell));
  // A cell is wider than twice the reach, so the next one up is the farthest; counted, for huge numbers do not step.
  const more = a.map((v, k) => (Math.floor((v + 2 * reach) / cell) > low[k] ? 1 : 0));
  const keys: number[] = [];
  for (let x = 0; x <= more[0]; x += 1) {
    for (let y = 0; y <= more[1]; y += 1) {
      for (let z = 0; z <= more[2]; z += 1) keys.push(cellKey(low[0] + x, low[1] + y, low[2] + z));
    }
  }
  return keys;
}
