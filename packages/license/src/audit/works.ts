/** One revision of a variant, as far as licenses are concerned. */
export interface Work {
  /** Unique, e.g. `device/variant@B`. */
  readonly id: string;
  readonly title: string;
  /** SPDX expression; null where none is stated, which means that all rights are reserved. */
  readonly license: string | null;
  /** Everybody who is named as an author or contributor. */
  readonly authors: readonly Author[];
  readonly parts: readonly WorkPart[];
  /** False where nothing is known of it but its name: of another registry, or missing. */
  readonly known: boolean;
  /** ISO 8601 date of the revision; null where there is none. */
  readonly date: string | null;
  /** Where it can be had; null where no address is known. */
  readonly url: string | null;
  /** False for something that is kept and shown to nobody; true where left out. */
  readonly published?: boolean;
  /** Names that asked not to be named, or that were never supplied. */
  readonly withheld?: readonly string[];
  /** Terms that were added to those of the license, as they are worded. */
  readonly extraTerms?: string | null;
  /** Files that hold notices, by their name without folder. */
  readonly notices?: readonly string[];
  /** The license is no longer offered by the author; copies received before stay licensed. */
  readonly withdrawn?: boolean;
}

export interface Author {
  readonly name: string;
  readonly url?: string | null;
}

/** A part that says something of its own. */
export interface WorkPart {
  readonly id: string;
  /** Where it differs from that of the work; else null. */
  readonly license: string | null;
  /** Where they differ from those of the work; else null. */
  readonly authors: readonly Author[] | null;
}

/**
 * What became of a shape, by measurement: nothing (a faithful conversion counts as that), plainly mirrored, plainly
 * rescaled by one factor, rescaled with interfaces brought back to their size, or changed otherwise.
 */
export type Shape = 'unchanged' | 'mirrored' | 'rescaled' | 'restored' | 'changed';

/** A part of a newer work, and the part of the older one that it is or was made from. */
export interface PartDescent {
  readonly part: string;
  readonly from: string;
  /** Null where it could not be told. */
  readonly shape: Shape | null;
}

export type Relation = 'revision' | 'copy' | 'mirror' | 'rescale' | 'remix' | 'combination';

/** How a newer work came from an older one. */
export interface Descent {
  /** Id of the newer one. */
  readonly from: string;
  /** Id of the older one. */
  readonly to: string;
  readonly relation: Relation;
  /** What was changed, in a sentence; null where nothing is said. */
  readonly changes: string | null;
  /** What the meshes say of the whole, where `parts` does not tell it. Null where nobody looked. */
  readonly shape?: Shape | null;
  /** Which part came from which. Where left out nobody looked, and parts of the same id are taken for it. */
  readonly parts?: readonly PartDescent[];
  /** Of a combination: every part lies unchanged in the pack under its own license. */
  readonly collection?: boolean;
  /**
   * Of a revision: the newer letter says by itself what it came from, so that what the older one came from is no matter.
   * Of others: hung on a later letter than the one it was declared for, which may have been reworked since.
   */
  readonly restated?: boolean;
  /** Of a combination: joined only through an interface that the older work documents. */
  readonly interfaceOnly?: boolean;
}

/** Works and what came from what. Circles are possible in what people write; they are walked once. */
export interface Works {
  readonly works: readonly Work[];
  readonly descents: readonly Descent[];
}

/** What the registry settled for itself. */
export interface LicensePolicy {
  /** License expressions that no variant may rest on. */
  readonly forbid?: readonly string[];
  /** Whether a plain mirror image counts as an adaptation; a question for a person where left out. */
  readonly mirrorIsAdaptation?: boolean;
  readonly rescaleIsAdaptation?: boolean;
}

/** A part has the shape of another one, by measurement. Of one part, the strongest comes first. */
export interface ShapeFact {
  readonly work: string;
  readonly part: string;
  readonly other: { readonly work: string; readonly part: string };
  readonly kinship: 'same-shape' | 'moved' | 'mirrored' | 'rescaled' | 'reworked';
  /** Of a rescaled one: its size divided by the other's. */
  readonly scale: number | null;
  /** On either side the oldest letter that has the shape, or a kin of it; null where no letter has. */
  readonly oldest: { readonly ours: DatedLetter | null; readonly theirs: DatedLetter | null };
}

/** Shapes near that of a part that were not compared with it, as one audit compares only so much. */
export interface LeftOut {
  readonly work: string;
  readonly part: string;
  readonly shapes: number;
}

export interface DatedLetter {
  /** Id of the work. */
  readonly work: string;
  /** ISO 8601 date. */
  readonly date: string;
}

/** Whether every part states a license of its own, so that none of the whole is needed. */
export function coveredByParts({ parts }: Pick<Work, 'parts'>): boolean {
  return parts.length > 0 && parts.every(part => part.license !== null);
}
