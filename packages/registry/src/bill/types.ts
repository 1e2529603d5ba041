import type { AuditCode, Author, Relation } from '@kinprint/license';

/** One file of a revision, for a list that names everything with its hashes. */
export interface BillFile {
  /** From the variant's folder, with forward slashes. */
  readonly path: string;
  /** In bytes. */
  readonly size: number;
  /** In hex, lower case (FIPS 180-4). */
  readonly sha256: string;
  /** In hex; SPDX 2.3 asks for it (clause 8.4). It proves nothing against forgery, the SHA-256 does. */
  readonly sha1: string;
  /** Ids of the parts that it belongs to, as their mesh or source; empty for what belongs to the whole. */
  readonly parts: readonly string[];
}

/** A part that says something of its own about license or authors. */
export interface BillPart {
  readonly id: string;
  readonly license: string | null;
  readonly authors: readonly Author[] | null;
  /** Its mesh; a path like that of a `BillFile`. */
  readonly mesh: string;
  /** What the mesh was made from. */
  readonly sources: readonly string[];
}

/** One revision of the lineage. */
export interface BillRevision {
  /** `device/variant@B`; without a letter for what is not recorded. */
  readonly id: string;
  readonly address: string;
  readonly letter: string | null;
  readonly title: string;
  readonly summary: string | null;
  /** As the manifest says, else the registry; null where nothing is stated. */
  readonly license: string | null;
  readonly authors: readonly Author[];
  readonly parts: readonly BillPart[];
  /** What the audit objects to about its license: with any, the license stated cannot be taken for the one that holds. */
  readonly objections: readonly AuditCode[];
  /** ISO 8601 date. */
  readonly date: string | null;
  /** `sha256:…`, as recorded. */
  readonly digest: string | null;
  /** http(s) address where its registry is published; null where not known. */
  readonly url: string | null;
  /** False where nothing is known of it but its name. */
  readonly known: boolean;
  /** The manifest could not be had from history; what stands there now was taken. */
  readonly guessed: boolean;
  /** In its repository where it was read from a commit, else in its registry; null where it is not at hand. */
  readonly folder: string | null;
  /** The commit that its files were read from; null for a working copy. */
  readonly commit: string | null;
  /** Sorted by path; null where not all of them can be read. */
  readonly files: readonly BillFile[] | null;
  /** SHA-1 over the SHA-1s of all files, sorted (SPDX 2.3, clause 7.9); null without files. */
  readonly verification_code: string | null;
  /** Why not; null where they can. */
  readonly files_problem: string | null;
  /** Texts of licenses outside the SPDX list that lie in its folder `LICENSES`, by the license's id. */
  readonly own_texts: Readonly<Record<string, string>>;
}

export interface BillLink {
  /** The newer one. */
  readonly from: string;
  readonly to: string;
  readonly relation: Relation;
  readonly changes: string | null;
}

/** A revision and everything that it came from, with all files: what a bill of materials is written from. */
export interface Bill {
  readonly registry: string;
  /** The revision itself first, then what it came from, the nearest first. */
  readonly revisions: readonly [BillRevision, ...BillRevision[]];
  readonly links: readonly BillLink[];
}
