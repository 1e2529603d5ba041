import { screwLength } from '@kinprint/fit';
import { dot, minus } from '../check/rules/vector.ts';
import { distanceApart, standingOf, type AxesStanding, type Axis } from './axes.ts';
import { assemblyDefaults } from './defaults.ts';
import { isStraight, type JudgedMate } from './judge-mates.ts';
import type { HardwareRows, StrayBores } from './types.ts';

/** A placed bore that takes a piece of hardware. */
interface Bore {
  readonly mate: JudgedMate;
  readonly instance: string;
  readonly part: number;
  readonly axis: Axis;
  readonly play_mm: number;
}

/**
 * For every piece of hardware that placed bores take: in how many rows these lie, and which of them stand alone though
 * their screw must go through a bore of another part.
 *
 * Bores are one row when their axes are in line. Where the size tells a screw's length, a row takes as many of them as
 * are needed to reach into each of its bores.
 *
 * @param copies how many of a part are placed, by its index
 */
export function hardwareRows(
  mates: readonly JudgedMate[],
  copies: (part: number) => number,
): { readonly rows: HardwareRows[]; readonly tooMany: boolean } {
  const byItem = new Map<string, JudgedMate[]>();
  for (const mate of mates) {
    const { seat, takes } = mate.declared;
    if (takes.kind !== 'hardware' || seat.face.kind !== 'bore') continue;
    byItem.set(takes.item.id, [...(byItem.get(takes.item.id) ?? []), mate]);
  }
  let tooMany = false;
  const rows = [...byItem].flatMap(([hardware, own]): HardwareRows[] => {
    const { takes } = own[0].declared;
    if (takes.kind !== 'hardware' || (takes.item.unit ?? 'piece') !== 'piece') return [];
    const bores = own.flatMap(boresOf);
    if (bores.length === 0) return [];
    if (bores.length ** 2 > assemblyDefaults.maxLines) {
      tooMany = true;
      return [];
    }
    const inLine = rowsOf(bores);
    const length_mm = takes.item.size === undefined ? null : screwLength(takes.item.size);
    const needed = inLine.reduce((sum, row) => sum + screwsFor(row, length_mm ?? Infinity), 0);
    const { quantity } = takes.item;
    return [
      {
        hardware,
        quantity,
        needed,
        bores: bores.length,
        complete: own.every(mate => isComplete(mate, copies(mate.declared.seat.partIndex))),
        strays: straysOf(inLine, needed > quantity, length_mm ?? Infinity),
      },
    ];
  });
  return { rows, tooMany };
}

/** Whether all bores of an interface were found, and are placed. */
function isComplete({ declared, bores }: JudgedMate, copies: number): boolean {
  return copies > 0 && bores.length === copies * (declared.seat.face.count ?? 1);
}

function boresOf(mate: JudgedMate): Bore[] {
  return mate.bores.map(({ instance, feature }) => ({
    mate,
    instance: instance.name,
    part: mate.declared.seat.partIndex,
    axis: feature,
    play_mm: Math.max(0, mate.mate.clearance_mm ?? 0),
  }));
}

/** Bores whose axes are in line with one another, directly or by others between them. */
function rowsOf(bores: readonly Bore[]): Bore[][] {
  const left = new Set(bores);
  const rows: Bore[][] = [];
  for (const first of bores) {
    if (!left.delete(first)) continue;
    const row = [first];
    // The row grows while it is walked.
    for (const one of row)
      for (const other of left)
        if (isStraight(standingOf(one.axis, other.axis), Math.max(one.play_mm, other.play_mm))) {
          left.delete(other);
          row.push(other);
        }
    rows.push(row);
  }
  return rows;
}

/** The least number of screws of a length that reach into all bores of a row: the bore that ends first is served first. */
function screwsFor([first, ...others]: readonly Bore[], length_mm: number): number {
  const spans = [first, ...others]
    .map(({ axis }) => {
      const at = dot(minus(axis.at, first.axis.at), first.axis.direction);
      return { low: at - axis.length_mm / 2, high: at + axis.length_mm / 2 };
    })
    .sort((a, b) => a.high - b.high);
  let count = 0;
  let reached = -Infinity;
  for (const { low, high } of spans) {
    if (low < reached) continue;
    count++;
    reached = high + length_mm;
  }
  return count;
}

/** Rows of one part alone beside rows of another part alone, that miss each other or that there are no screws for. */
function straysOf(rows: readonly Bore[][], few: boolean, length_mm: number): StrayBores[] {
  const alone = rows.filter(row => row.every(({ part }) => part === row[0].part)).flat();
  const told = new Set<string>();
  return alone.flatMap((bore): StrayBores[] => {
    let nearest: (AxesStanding & { readonly other: Bore }) | null = null;
    for (const other of alone) {
      if (other.part === bore.part) continue;
      const standing = standingOf(bore.axis, other.axis);
      if (nearest === null || distanceApart(standing) < distanceApart(nearest))
        nearest = { ...standing, other };
    }
    if (nearest === null) return [];
    const { other, offset_mm, angle_deg, overlap_mm } = nearest;
    const width_mm = Math.max(widthOf(bore), widthOf(other));
    const near = offset_mm <= width_mm && angle_deg <= assemblyDefaults.missed_deg;
    // What is farther apart along the axis than the screw is long was never one row.
    const missed = near && overlap_mm >= -length_mm;
    const key = [nameOf(bore), nameOf(other)].sort().join(' ');
    if ((!missed && !few) || told.has(key)) return [];
    told.add(key);
    const [a, b] = bore.part < other.part ? [bore, other] : [other, bore];
    return [{ a: endOf(a), b: endOf(b), offset_mm, angle_deg }];
  });
}

function widthOf({ mate }: Bore): number {
  return mate.mate.seat.measured_mm ?? 0;
}

/** One for all bores of an interface of a copy. */
function nameOf({ instance, mate }: Bore): string {
  return `${instance}/${mate.declared.seat.face.id}`;
}

function endOf({ instance, mate }: Bore): StrayBores['a'] {
  const { part, face } = mate.declared.seat;
  return { instance, part, interface: face.id };
}
