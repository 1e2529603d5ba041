/** How a revision came from an older one: `revision` within one variant, the others between variants. */
export type Relation = 'revision' | 'remix' | 'mirror' | 'rescale' | 'combination' | 'copy';

/**
 * What is known of a node.
 * - `recorded`: a letter with a digest.
 * - `vetted`, `withdrawn`: a recorded letter of which that was said.
 * - `changed`: the present content of a variant, which is no longer that of its last letter.
 * - `unrecorded`: the present content of a variant without letters.
 * - `missing`: something derives from it, and this registry (or the source that is named) has no such letter.
 * - `unreadable`: its manifest has errors, so its letters are not known.
 * - `elsewhere`: of a source that is not at hand.
 */
export type LineageStatus =
  'recorded' | 'vetted' | 'withdrawn' | 'changed' | 'unrecorded' | 'missing' | 'unreadable' | 'elsewhere';

/** One revision of a variant, or its present content where that has no letter. */
export interface LineageNode {
  /** `device/variant@B`, or `device/variant` for content without a letter; with `source:` before it for other registries. */
  readonly id: string;
  /** `device/variant` or `source:device/variant`. */
  readonly address: string;
  readonly letter: string | null;
  /**
   * Title, license, authors, hand and size are those of the variant's present manifest: what an earlier letter said
   * stands in the history. The title is the address where nothing is known.
   */
  readonly title: string;
  /** SPDX expression, of the variant or else of its registry; null where neither names one. */
  readonly license: string | null;
  /** Names. */
  readonly authors: readonly string[];
  readonly hand: 'left' | 'right' | 'both' | null;
  /** The body measure that the meshes fit as they are. */
  readonly fit: { readonly body_measure: string; readonly base_mm: number } | null;
  /** ISO 8601 date on which it was recorded. */
  readonly date: string | null;
  /** Who recorded it. */
  readonly by: string | null;
  /** `sha256:…` as recorded. */
  readonly digest: string | null;
  readonly status: LineageStatus;
}

/** A link between two nodes. */
export interface LineageEdge {
  /** Id of the newer one. */
  readonly from: string;
  /** Id of the older one, from which the newer one came. */
  readonly to: string;
  readonly relation: Relation;
  /** What was changed, in a sentence. */
  readonly changes: string | null;
  /** The derivation names a digest, and the older one was recorded with another. */
  readonly otherDigest: boolean;
}

/** Which revisions came from which. Ids are unique. Circles are possible in what people write, and are findings. */
export interface LineageGraph {
  readonly nodes: readonly LineageNode[];
  readonly edges: readonly LineageEdge[];
}
