import type { Digest, RevisionEntry } from '@kinprint/manifest';
import type { Cache } from '../cache/cache.ts';
import type { RevisionContent } from '../history/history.ts';
import type { RegistryState } from '../state/types.ts';

/** How a revision is recorded. */
export interface RecordOptions {
  /** Who records it; git's name for the user where left out. */
  readonly by?: string;
  /** ISO 8601 date of the revision. */
  readonly date: string;
  /** Whether a person chose it; else it is what the calendar here says. */
  readonly dateChosen?: boolean;
  /** The latest day that has begun anywhere; later dates are refused. Not looked at where left out. */
  readonly latestDate?: string;
  /** Takes dates before the previous letter's, as importing older states needs; the log then says so. */
  readonly anyDate?: boolean;
  /** The letter to give; the next that is free where left out. */
  readonly letter?: string;
  /** What was read of history before. */
  readonly cache?: Cache;
  /** A line of one's own before those that the comparison gives. */
  readonly summary?: string;
  /** Says what would be recorded, and writes nothing. */
  readonly dryRun?: boolean;
  /** Told how many parts of how many were compared. */
  readonly progress?: (done: number) => void;
  /** Judges the variant before anything is written; errors refuse the recording. */
  readonly check?: (state: RegistryState, address: string) => Promise<readonly RefusalFinding[]>;
  /** For tests: called when a point is reached; what it throws ends the recording there. */
  readonly at?: (point: RecordPoint) => void;
}

/** Where a recording can be interrupted, in this order. */
export type RecordPoint =
  'begun' | 'stored' | 'committed' | 'manifest-beside' | 'branch-moved' | 'manifest-written' | 'done';

/** What a check says of the variant, in short. */
export interface RefusalFinding {
  readonly code: string;
  readonly severity: 'error' | 'warning' | 'note';
  readonly text: string;
  readonly remedy: string;
  readonly file: string;
  readonly line: number | null;
  readonly column: number | null;
}

export type RecordOutcome =
  | {
      readonly kind: 'recorded' | 'dry-run';
      readonly address: string;
      readonly entry: RevisionEntry;
      /** null for a dry run. */
      readonly commit: string | null;
      /** What the user should know, e.g. that the manifest was edited meanwhile. */
      readonly notes: readonly string[];
    }
  | {
      /** A recording that was interrupted, or an entry written by hand, is now whole. */
      readonly kind: 'completed';
      readonly address: string;
      readonly entry: RevisionEntry;
      readonly commit: string;
      readonly notes: readonly string[];
    }
  | {
      readonly kind: 'unchanged';
      readonly address: string;
      readonly entry: RevisionEntry;
    }
  | {
      readonly kind: 'refused';
      readonly address: string;
      readonly findings: readonly RefusalFinding[];
    };

/** What a variant's folder holds now, and what is about to be recorded of it. */
export interface Draft {
  readonly content: RevisionContent;
  readonly digest: Digest;
}
