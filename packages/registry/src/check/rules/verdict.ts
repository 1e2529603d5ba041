import type { Vec3 } from '@kinprint/mesh';

/**
 * How an interface of the manifest stands to what was measured.
 *
 * - `fits`: the mesh has it.
 * - `differs`: the mesh has something in its place, of another size.
 * - `facets`: the size is right, but the facets stand in the way: across the flats a bore is narrower than through its
 *   corners, and a pin is wider through its corners than across its flats.
 * - `missing`: the mesh has nothing there that could be meant.
 * - `unchecked`: it cannot be told; `why` says what would help.
 */
export type Verdict =
  | { readonly state: 'fits' | 'differs' | 'facets'; readonly measured: Measured }
  | { readonly state: 'missing'; readonly found: number; readonly nearest: Measured | null }
  | { readonly state: 'unchecked'; readonly why: string };

export interface Measured {
  /** The size that matters: across the flats of a bore, through the corners of a pin, between two planes. */
  readonly size_mm: number;
  /** Of bores and pins the other one of the two diameters. */
  readonly other_mm: number | null;
  readonly at_mm: Vec3;
  /** From the declared place; null where none is declared. */
  readonly off_mm: number | null;
}
