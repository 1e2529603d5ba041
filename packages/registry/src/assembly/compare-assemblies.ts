import { assemblyDefaults } from './defaults.ts';
import { judgeMeasured } from './judge-measured.ts';
import type {
  AssemblyComparison,
  AssemblyReport,
  ClearanceChange,
  InterferenceChange,
  Mate,
  MixedPair,
  PlacedInterference,
} from './types.ts';

/**
 * What became of interferences, clearances and placements. Copies and mates are the same when they have the same names:
 * the part's id and how many copies of it are placed before, and the ids of both interfaces.
 */
export function compareAssemblies(before: AssemblyReport, after: AssemblyReport): AssemblyComparison {
  return {
    interferences:
      before.interferences === null || after.interferences === null
        ? null
        : interferenceChanges(before.interferences, after.interferences),
    clearances: clearanceChanges(before.mates, after.mates),
    exchanges: mixedPairs(before.mates, after.mates),
    placed: [
      ...missing(after, before).map(name => ({ name, change: 'added' as const })),
      ...missing(before, after).map(name => ({ name, change: 'removed' as const })),
    ],
  };
}

/** Copies that the one has and the other has not. */
function missing({ placed }: AssemblyReport, other: AssemblyReport): string[] {
  const names = new Set(other.placed.map(({ name }) => name));
  return placed.map(({ name }) => name).filter(name => !names.has(name));
}

const order: Readonly<Record<InterferenceChange['change'], number>> = {
  new: 0,
  grown: 1,
  shrunk: 2,
  gone: 3,
};

function interferenceChanges(
  before: readonly PlacedInterference[],
  after: readonly PlacedInterference[],
): InterferenceChange[] {
  const were = new Map(before.map(one => [pairName(one), one]));
  const are = new Set(after.map(pairName));
  const changes = after.flatMap((now): InterferenceChange[] => {
    const { a, b } = now;
    const was = were.get(pairName(now));
    if (was === undefined) return [{ a, b, change: 'new', before: null, after: now }];
    const grew = now.volume_mm3 - was.volume_mm3;
    if (Math.abs(grew) <= assemblyDefaults.volumeShare * was.volume_mm3) return [];
    return [{ a, b, change: grew > 0 ? 'grown' : 'shrunk', before: was, after: now }];
  });
  const gone = before
    .filter(one => !are.has(pairName(one)))
    .map((was): InterferenceChange => ({ a: was.a, b: was.b, change: 'gone', before: was, after: null }));
  return [...changes, ...gone].sort((p, q) => order[p.change] - order[q.change] || volumeOf(q) - volumeOf(p));
}

function volumeOf({ before, after }: InterferenceChange): number {
  return (after ?? before)?.volume_mm3 ?? 0;
}

/** The same whichever of the two is placed first. */
function pairName({ a, b }: PlacedInterference): string {
  return a < b ? `${a} ${b}` : `${b} ${a}`;
}

function clearanceChanges(before: readonly Mate[], after: readonly Mate[]): ClearanceChange[] {
  const were = new Map(before.map(mate => [mateName(mate), mate]));
  const are = new Set(after.map(mateName));
  const changes = after.flatMap((now): ClearanceChange[] => {
    const was = were.get(mateName(now)) ?? null;
    const change = was === null ? 'added' : 'changed';
    const told = { seat: now.seat, takes: takesName(now), change, before: was, after: now } as const;
    const [crossed, line] = was === null ? [null, null] : [crossing(was, now), lineCrossing(was, now)];
    if (was !== null && crossed === null && line === null && !differ(was, now)) return [];
    return [{ ...told, crossed, line }];
  });
  const gone = before
    .filter(mate => !are.has(mateName(mate)))
    .map((was): ClearanceChange => ({
      seat: was.seat,
      takes: takesName(was),
      change: 'removed',
      before: was,
      after: null,
      crossed: null,
      line: null,
    }));
  return [...changes, ...gone];
}

/** `part/interface` or `hardware/id`: what the seat takes. */
export function takesName({ takes }: Mate): string {
  return takes.kind === 'hardware' ? `hardware/${takes.hardware}` : `${takes.part}/${takes.interface}`;
}

function mateName(mate: Mate): string {
  return `${mate.seat.part}/${mate.seat.interface} ${takesName(mate)}`;
}

function differ(was: Mate, now: Mate): boolean {
  if (was.verdict !== now.verdict || was.declared !== now.declared) return true;
  if (was.clearance_mm === null || now.clearance_mm === null) return was.clearance_mm !== now.clearance_mm;
  // Both are multiples of a micrometer.
  return Math.abs(was.clearance_mm - now.clearance_mm) > 1.5 * assemblyDefaults.measured_mm;
}

/**
 * Old and new swap only if the new one goes with the old other one, and the old one with the new. By the class that AFTER
 * declares.
 */
function mixedPairs(before: readonly Mate[], after: readonly Mate[]): MixedPair[] {
  const were = new Map(before.map(mate => [mateName(mate), mate]));
  return after.flatMap((now): MixedPair[] => {
    const was = were.get(mateName(now));
    if (was === undefined || isWithin(was) !== true || isWithin(now) !== true) return [];
    return [
      ...mixed(now, now.seat, was.takes, 'seat' as const),
      ...mixed(now, was.seat, now.takes, 'other' as const),
    ];
  });
}

function mixed(
  now: Mate,
  { measured_mm: outside }: Mate['seat'],
  takes: Mate['takes'],
  exchanged: MixedPair['exchanged'],
): MixedPair[] {
  if (takes.kind === 'hardware' || outside === null || takes.measured_mm === null) return [];
  const judged = judgeMeasured(outside, takes.measured_mm, now.declared, false);
  const fits = judged.verdict === 'as-asked' || (judged.verdict === 'unknown' && judged.clearance_mm > 0);
  if (fits) return [];
  const { clearance_mm, asked } = judged;
  return [{ seat: now.seat, takes: takesName(now), exchanged, clearance_mm, asked }];
}

function crossing(was: Mate, now: Mate): ClearanceChange['crossed'] {
  return between(isWithin(was), isWithin(now));
}

function lineCrossing(was: Mate, now: Mate): ClearanceChange['line'] {
  if (was.takes.kind !== 'hardware' || was.lines.length !== now.lines.length)
    return between(isStraight(was), isStraight(now));
  // Of several screws some may go through bores of one part alone, whose axes meet no others and need not.
  const fell = was.lines.some(({ in_line }, k) => in_line && !now.lines[k].in_line);
  const came = now.lines.some(({ in_line }, k) => in_line && !was.lines[k].in_line);
  return fell ? 'left' : came ? 'entered' : null;
}

function between(was: boolean | null, now: boolean | null): 'left' | 'entered' | null {
  if (was === null || now === null || was === now) return null;
  return now ? 'entered' : 'left';
}

/** Whether a clearance is as it should be; null where nobody says, or it could not be measured. */
function isWithin({ verdict, declared, seat, takes, clearance_mm }: Mate): boolean | null {
  switch (verdict) {
    case 'as-asked':
      return true;
    case 'tighter':
    case 'looser':
      return false;
    case 'interference':
      // A screw without a declared clearance may cut its thread.
      return declared === null && takes.kind === 'hardware' ? null : false;
    case 'unknown':
      return declared === 'thread' ||
        takes.kind === 'hardware' ||
        seat.kind === 'face' ||
        clearance_mm === null
        ? null
        : clearance_mm > 0;
    case 'unmeasured':
      return null;
  }
}

function isStraight({ lines }: Mate): boolean | null {
  return lines.length === 0 ? null : lines.every(line => line.in_line);
}
