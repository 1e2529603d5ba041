import type { Unread } from './gaps.ts';

/** One manifest as one commit left it. */
export interface ManifestVersion {
  readonly commit: string;
  /** The commit's time in seconds since 1970. */
  readonly time: number;
  /** The path of the manifest in the repository. */
  readonly path: string;
  /** The id of its content. */
  readonly blob: string;
}

/** What the history holds of manifests, and what of it could not be read. */
export interface Sweep {
  readonly versions: readonly ManifestVersion[];
  readonly unread: readonly Unread[];
}
