import type { MaterialRegion } from '../difference/types.ts';
import type { Change, Conflict, ConflictKind, Remix } from './types.ts';

/** Piece `a` of the one remix touches piece `b` of the other. */
export interface Meeting {
  readonly a: number;
  readonly b: number;
  readonly overlap_mm3: number;
  readonly gap_mm: number;
}

/** Gathers touching pieces: whatever hangs together over any chain of touches is one conflict. */
export function gatherConflicts(
  a: readonly Change[],
  b: readonly Change[],
  meetings: readonly Meeting[],
): Conflict[] {
  const group = new Map<string, Meeting[]>();
  for (const meeting of meetings) {
    const joined = new Set([group.get(`a${meeting.a}`) ?? [], group.get(`b${meeting.b}`) ?? []]);
    const all = [...[...joined].flat(), meeting];
    for (const each of all) group.set(`a${each.a}`, all).set(`b${each.b}`, all);
  }
  const conflicts = [...new Set(group.values())].map(all => conflictOf(a, b, all));
  return conflicts.sort(
    (p, q) => weight(a, b, q) - weight(a, b, p) || compareKeys(placeKey(a, b, p), placeKey(a, b, q)),
  );
}

function conflictOf(a: readonly Change[], b: readonly Change[], meetings: readonly Meeting[]): Conflict {
  const indices = (side: Remix) => [...new Set(meetings.map(each => each[side]))].sort((p, q) => p - q);
  const pieces = { a: indices('a'), b: indices('b') };
  const kinds = new Set([...pieces.a.map(k => a[k].region.kind), ...pieces.b.map(k => b[k].region.kind)]);
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
