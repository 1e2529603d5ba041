import type { Cache } from '../cache/cache.ts';
import type { HistoryGap } from '../history/gaps.ts';
import type { RegistryState } from '../state/types.ts';
import type { Counts, Finding } from './finding.ts';
import type { Content } from './likeness.ts';
import type { Recording } from './recorded-letters.ts';
import type { Shard } from './shard.ts';

export interface CheckOptions {
  /** Only these, as `device/variant`; the whole registry where left out. */
  readonly variants?: readonly string[];
  readonly shard?: Shard;
  readonly cache?: Cache;
  /** The states of the sources that are at hand, by name. */
  readonly sources?: ReadonlyMap<string, RegistryState>;
  /** What the history recorded, by the manifest's path from the registry's root; null where there is none. */
  readonly recorded?: ReadonlyMap<string, readonly Recording[]> | null;
  /** What of the history could not be read. */
  readonly gaps?: readonly HistoryGap[];
  /** The content of an older revision, of this registry or of a source; null where it cannot be had. */
  readonly contentOf?: (address: string, letter: string, source: string | null) => Promise<Content | null>;
  readonly progress?: (done: number, total: number) => void;
  /** The worker's file; for tests. */
  readonly worker?: URL | null;
}

export interface CheckReport {
  /** How to name the state: a folder, or a git revision. */
  readonly state: string;
  readonly commit: string | null;
  readonly shard: Shard | null;
  /** Whether what concerns the registry as a whole was checked: in the first shard, and where no variant is named. */
  readonly whole: boolean;
  /** Variants checked. */
  readonly variants: number;
  /** Parts of theirs. */
  readonly parts: number;
  readonly counts: Counts;
  /** See `byWeight` for their order. */
  readonly findings: readonly Finding[];
}
