import { bounds, concatenate, type Bounds, type Mesh } from '@kinprint/mesh';
import { toManifold } from '../convert.ts';
import { defaults } from '../defaults.ts';
import { materialDifference } from '../difference/material-difference.ts';
import type { MaterialRegion } from '../difference/types.ts';
import { frameOf, type Frame } from '../frame.ts';
import { withSolids, type Kernel, type KernelSolid } from '../kernel.ts';
import { grown } from './grow.ts';
import { gatherConflicts, type Meeting } from './gather-conflicts.ts';
import { linkedPieces } from './linked-pieces.ts';
import { remembered } from './remembered.ts';
import { solidAround } from './solid-around.ts';
import type { Agreement, Change, CombineOptions, Contact, Remix } from './types.ts';

type Nearest = NonNullable<Contact['nearest']>;

/**
 * Which changes of the two remixes are the same, which touch, and how near the others come.
 *
 * Pieces touch when they share space or come nearer than `touch_mm`. A piece that both have alike, within the
 * tolerance, is an agreement and in no conflict. A piece in conflict takes along what touches it of its own remix: a wall
 * that was moved is material added on one side and removed on the other, and one without the other is no wall.
 */
export function findContact(
  kernel: Kernel,
  base: Mesh,
  a: readonly Change[],
  b: readonly Change[],
  options: CombineOptions,
): Contact {
  const reach = Math.max(options.touch_mm, defaults.nearChanges_mm);
  const close = closePairs(a, b, reach);
  const agreements = findAgreements(kernel, a, b, close, options.tolerance_mm);
  const agreed = (p: number, q: number) => agreements.some(same => same.a === p || same.b === q);
  const open = close.filter(([p, q]) => !agreed(p, q));
  if (open.length === 0) return { conflicts: [], agreements, nearest: null };
  const frame = frameOf(...[...a, ...b].map(piece => piece.region.mesh));
  return withSolids(keep => {
    const solidOf = remembered((mesh: Mesh): KernelSolid => keep(toManifold(kernel, mesh, frame)));
    const { tolerance_mm } = options;
    const whole = remembered(({ partsAt }: Change) =>
      grown(concatenate(partsAt(tolerance_mm)), tolerance_mm),
    );
    const partPairs = (first: Change, second: Change) =>
      first
        .partsAt(tolerance_mm)
        .flatMap(one => second.partsAt(tolerance_mm).map(other => [solidOf(one), solidOf(other)] as const));
    const meetings: Meeting[] = [];
    let nearest: Nearest | null = null;
    for (const [p, q] of open) {
      const gap_mm = Math.min(
        ...partPairs(a[p], b[q]).map(([one, other]) =>
          gapBetween(one, other, frame, options.touch_mm, reach),
        ),
      );
      if (gap_mm < options.touch_mm) {
        // Of different kind they share no space: one lies outside the base, the other inside.
        const { kind } = a[p].region;
        const overlap_mm3 =
          kind === b[q].region.kind ? sharedVolume(kernel, base, whole(a[p]), whole(b[q]), kind, options) : 0;
        meetings.push({ a: p, b: q, overlap_mm3, gap_mm });
      } else if (gap_mm < (nearest?.gap_mm ?? reach)) nearest = { a: p, b: q, gap_mm };
    }
    const touching = (side: readonly Change[]) => (p: number, q: number) =>
      near(side[p].region.bounds_mm, side[q].region.bounds_mm, options.touch_mm) &&
      partPairs(side[p], side[q]).some(
        ([one, other]) =>
          gapBetween(one, other, frame, options.touch_mm, options.touch_mm) < options.touch_mm,
      );
    const linksOf = (side: Remix, pieces: readonly Change[]) =>
      linkedPieces(
        meetings.map(meeting => meeting[side]),
        [...pieces.keys()].filter(k => !agreements.some(same => same[side] === k)),
        touching(pieces),
      );
    const links = { a: linksOf('a', a), b: linksOf('b', b) };
    return { conflicts: gatherConflicts(a, b, meetings, links), agreements, nearest };
  });
}

/** What two pieces of one kind have in common, outside the base where they were added, within it where removed. */
function sharedVolume(
  kernel: Kernel,
  base: Mesh,
  first: Mesh,
  second: Mesh,
  kind: MaterialRegion['kind'],
  { tolerance_mm }: CombineOptions,
): number {
  const pair = [first, second];
  const frame = frameOf(base, ...pair);
  return withSolids(keep => {
    const whole = keep(solidAround(kernel, base, pair, frame, tolerance_mm));
    const [p, q] = pair.map(mesh => keep(toManifold(kernel, mesh, frame)));
    const common = keep(p.intersect(q));
    const there = keep(kind === 'added' ? common.subtract(whole) : common.intersect(whole));
    return there.volume() / frame.scale ** 3;
  });
}

/** Pairs of pieces whose boxes come nearer than `reach`. */
function closePairs(
  a: readonly Change[],
  b: readonly Change[],
  reach: number,
): (readonly [number, number])[] {
  const boxes = (pieces: readonly Change[]) => pieces.map(({ region }) => region.bounds_mm);
  const [first, second] = [boxes(a), boxes(b)];
  return first.flatMap((box, p) =>
    second.flatMap((other, q) => (near(box, other, reach) ? [[p, q] as const] : [])),
  );
}

function near(p: Bounds, q: Bounds, reach: number): boolean {
  return [0, 1, 2].every(k => p.min[k] - reach <= q.max[k] && q.min[k] - reach <= p.max[k]);
}

/** Each piece agrees with one of the other remix at most. */
function findAgreements(
  kernel: Kernel,
  a: readonly Change[],
  b: readonly Change[],
  close: readonly (readonly [number, number])[],
  tolerance_mm: number,
): Agreement[] {
  const found: Agreement[] = [];
  for (const [p, q] of close) {
    if (found.some(same => same.a === p || same.b === q)) continue;
    if (alike(kernel, a[p], b[q], tolerance_mm)) found.push({ a: p, b: q });
  }
  return found;
}

/** Whether two pieces are the same change: nowhere deeper apart than the tolerance. */
function alike(kernel: Kernel, p: Change, q: Change, tolerance_mm: number): boolean {
  if (p.region.kind !== q.region.kind) return false;
  const [first, second] = [p, q].map(({ partsAt }) =>
    grown(concatenate(partsAt(tolerance_mm)), tolerance_mm),
  );
  const [box, other] = [bounds(first), bounds(second)];
  if (box === null || other === null) return false;
  const apart = [0, 1, 2].map(k =>
    Math.max(Math.abs(box.min[k] - other.min[k]), Math.abs(box.max[k] - other.max[k])),
  );
  if (Math.max(...apart) > 4 * tolerance_mm) return false;
  const found = materialDifference(kernel, first, second, { tolerance_mm });
  return found.added_mm3 !== null && found.regions.length === 0;
}

/** The distance of two solids, looked for in widening steps: a long search costs much. `reach` when none is nearer. */
function gapBetween(
  first: KernelSolid,
  second: KernelSolid,
  { scale }: Frame,
  touch_mm: number,
  reach: number,
): number {
  for (let search = touch_mm; ; search = Math.min(4 * search, reach)) {
    const gap = first.minGap(second, search * scale) / scale;
    if (gap < search * (1 - 1e-9)) return gap;
    if (search >= reach) return reach;
  }
}
