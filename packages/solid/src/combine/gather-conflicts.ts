import type { MaterialRegion } from '../difference/types.ts';
import type { Link } from './linked-pieces.ts';
import { remixes, type Change, type Conflict, type ConflictKind, type Remix } from './types.ts';

/** Piece `a` of the one remix touches piece `b` of the other. */
export interface Meeting {
  readonly a: number;
  readonly b: number;
  readonly overlap_mm3: number;
  readonly gap_mm: number;
}

/**
 * Gathers touching pieces: whatever hangs together over any chain of touches is one conflict.
 *
 * @param links touching pieces of one remix, each reached from one in a meeting
 */
export function gatherConflicts(
  a: readonly Change[],
  b: readonly Change[],
  meetings: readonly Meeting[],
  links: Readonly<Record<Remix, readonly Link[]>>,
): Conflict[] {
  const group = new Map<string, Set<string>>();
  const join = (p: string, q: string): void => {
    const all = new Set([...(group.get(p) ?? [p]), ...(group.get(q) ?? [q])]);
    for (const each of all) group.set(each, all);
  };
  for (const meeting of meetings) join(`a${meeting.a}`, `b${meeting.b}`);
  for (const side of remixes) for (const [p, q] of links[side]) join(`${side}${p}`, `${side}${q}`);
  const conflicts = [...new Set(group.values())].map(all =>
    conflictOf(
      a,
      b,
      all,
      meetings.filter(meeting => all.has(`a${meeting.a}`)),
    ),
  );
  return conflicts.sort(
    (p, q) => weight(a, b, q) - weight(a, b, p) || compareKeys(placeKey(a, b, p), placeKey(a, b, q)),
  );
}

function conflictOf(
  a: readonly Change[],
  b: readonly Change[],
  all: ReadonlySet<string>,
  meetings: readonly Meeting[],
): Conflict {
  const indices = (side: Remix, changes: readonly Change[]) =>
    [...changes.keys()].filter(k => all.has(`${side}${k}`));
  const pieces = { a: indices('a', a), b: indices('b', b) };
  const kinds = new Set(meetings.flatMap(each => [a[each.a].region.kind, b[each.b].region.kind]));
  return {
    kind: kindOf(kinds),
    pieces,
    overlap_mm3: meetings.reduce((sum, each) => sum + each.overlap_mm3, 0),
    gap_mm: meetings.reduce((least, each) => Math.min(least, each.gap_mm), Infinity),
  };
}

function kindOf(kinds: ReadonlySet<MaterialRegion['kind']>): ConflictKind {
  if (kinds.size > 1) return 'added-against-removed';
  return kinds.has('added') ? 'both-added' : 'both-removed';
}

function involved(a: readonly Change[], b: readonly Change[], { pieces }: Conflict) {
  return [...pieces.a.map(k => a[k].region), ...pieces.b.map(k => b[k].region)];
}

/** The largest piece, which does not depend on the order of the sum as a total would. */
function weight(a: readonly Change[], b: readonly Change[], conflict: Conflict): number {
  return Math.max(...involved(a, b, conflict).map(piece => piece.volume_mm3));
}

function placeKey(a: readonly Change[], b: readonly Change[], conflict: Conflict) {
  return [0, 1, 2].map(k => Math.min(...involved(a, b, conflict).map(piece => piece.centroid_mm[k])));
}

function compareKeys(p: readonly number[], q: readonly number[]): number {
  const k = p.findIndex((value, i) => value !== q[i]);
  return k < 0 ? 0 : p[k] - q[k];
}
