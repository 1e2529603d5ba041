import type { Note } from '@kinprint/mesh';
import type { Comparison, Verdict } from '../comparison.ts';

/** One file of a tree (a directory, or a commit), as pairing sees it. */
export interface EntryInfo {
  /** Path below the root of the tree, parts joined by `/`. Unique within its tree. */
  readonly path: string;
  /** Bytes; null when unknown. */
  readonly size: number | null;
  /** `algorithm:hex` of the content; equal digests mean equal content. null when it could not be read. */
  readonly digest: string | null;
}

/**
 * How two files were found to belong together.
 *
 * - `path`: the same path on both sides.
 * - `content`: the same content under another path: renamed or moved to another folder.
 * - `shape`: a similar shape under another path, found by comparing: renamed and changed.
 * - `copy`: made from a file of BEFORE that has another counterpart: copied, and perhaps changed (the verdict tells).
 * - `split`: one file of BEFORE stands in several files of AFTER; one part per piece that has no other line.
 * - `gathered`: several files of BEFORE stand in one file of AFTER, e.g. on a plate; one part per piece.
 * - `added`, `removed`: no counterpart, or gone while what it held stands in files with lines of their own (a note of
 *   the tree says where).
 */
export type Pairing = 'path' | 'content' | 'shape' | 'copy' | 'split' | 'gathered' | 'added' | 'removed';

/**
 * A part's verdict: that of its comparison, or why there is none. `unreadable` is an input nobody can use (or
 * that is missing); `failed` is a fault of ours in this one comparison.
 */
export type PartVerdict = Verdict | 'added' | 'removed' | 'unreadable' | 'failed';

/** Why a part could not be compared. */
export interface PartProblem {
  /** Closed set of codes, kebab-case: those of `InputError` and `EntryProblem`, and `fault`. */
  readonly code: string;
  readonly side: 'before' | 'after' | 'both';
  readonly text: string;
  readonly remedy: string;
}

/** Two files that belong together (or one without a counterpart) and what changed between them. */
export interface PartComparison {
  readonly before: string | null;
  readonly after: string | null;
  readonly pairing: Pairing;
  /**
   * For `split` and `gathered`: which bodies of each file took part (numbers as `bodies(mesh)` orders them).
   * null means the whole file.
   */
  readonly bodies: { readonly before: readonly number[] | null; readonly after: readonly number[] | null };
  readonly verdict: PartVerdict;
  /** null for equal content, for added and removed files, and when there is a problem. */
  readonly comparison: Comparison | null;
  readonly problem: PartProblem | null;
}

/** How many parts have each verdict, and all of them. */
export type TreeTotals = Readonly<Record<PartVerdict | 'parts', number>>;

/** What changed between two trees. Keys are the keys of `kinprint compare --json` for directories and revisions. */
export interface TreeComparison {
  /** Changed parts first, then by path. */
  readonly parts: readonly PartComparison[];
  readonly totals: TreeTotals;
  readonly notes: readonly Note[];
}
