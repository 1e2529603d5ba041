import type { Mesh, Note } from '@kinprint/mesh';
import type { MaterialRegion } from '../difference/types.ts';

/** The two remixes of one base. */
export type Remix = 'a' | 'b';
export const remixes: readonly Remix[] = ['a', 'b'];

/** What of a conflict goes into the result: the changes of one remix, of both, or of neither. */
export type Take = 'a' | 'b' | 'both' | 'none';
export const takes: readonly Take[] = ['a', 'b', 'both', 'none'];

/** One connected piece of material that a remix added or removed. */
export interface Change {
  readonly region: MaterialRegion;
  /** The same as solids free of films, smaller by an offset (see `cleanParts`). Made when first asked for. */
  readonly partsAt: (offset_mm: number) => readonly Mesh[];
  /** The same for taking the change back from the remix: they go through the remix's surface, and end on the base's. */
  readonly undoneAt: (offset_mm: number) => readonly Mesh[];
}

/** What takes back a change of this kind. */
export function undoneBy(kind: MaterialRegion['kind']): MaterialRegion['kind'] {
  return kind === 'added' ? 'removed' : 'added';
}

/** What one remix changed, largest first. */
export interface RemixChanges {
  readonly pieces: readonly Change[];
  readonly notes: readonly Note[];
}

export type ConflictKind = 'both-added' | 'both-removed' | 'added-against-removed';

/** Changes of one remix that touch changes of the other without being the same. */
export interface Conflict {
  readonly kind: ConflictKind;
  /** Which pieces of each remix, by index. */
  readonly pieces: Readonly<Record<Remix, readonly number[]>>;
  /** Material that both remixes added, or both removed, here. */
  readonly overlap_mm3: number;
  /** Least distance between a piece of one and a piece of the other; 0 where they meet. */
  readonly gap_mm: number;
}

/** A change that both remixes made alike: piece `a` of the one is piece `b` of the other. */
export interface Agreement {
  readonly a: number;
  readonly b: number;
}

/** How the changes of the two remixes stand to each other. */
export interface Contact {
  /** Largest first, then by place, so that the order does not depend on which remix is named first. */
  readonly conflicts: readonly Conflict[];
  readonly agreements: readonly Agreement[];
  /** The two changes that come closest without touching, when they are nearer than looked for. */
  readonly nearest: { readonly a: number; readonly b: number; readonly gap_mm: number } | null;
}

export interface CombineOptions {
  /** Differences up to this size do not count. */
  readonly tolerance_mm: number;
  /** Changes nearer to each other than this touch. */
  readonly touch_mm: number;
}

/** A piece as it goes into the result. */
export interface Applied {
  readonly side: Remix;
  readonly index: number;
  readonly piece: Change;
}

/** The combined solid. */
export interface Combined {
  readonly mesh: Mesh;
  /** When the result is one of the inputs, triangle for triangle: which. */
  readonly copied: 'base' | Remix | null;
  /** Whether the changes went in as they are, up to rounding, and not by way of offset surfaces. */
  readonly exact: boolean;
}
