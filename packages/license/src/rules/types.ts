/** Where a statement rests. */
export interface Basis {
  /** Section of the license, or the chart and cell. */
  readonly clause: string;
  /** The text that was read. */
  readonly source: string;
  /** `read`: the source was read for this row; `derived`: it follows from rows that were; `memory`: it was not checked. */
  readonly sure: 'read' | 'derived' | 'memory';
}

/**
 * From best to worst: allowed; allowed by the letter, but recipients must then obey two licenses; a person must decide;
 * not allowed.
 */
export type Answer = 'permitted' | 'not-recommended' | 'ask' | 'not-permitted';

/** An answer, why, and where that stands. */
export interface Verdict extends Basis {
  readonly answer: Answer;
  readonly why: string;
}

export type DutyKind =
  | 'credit'
  | 'title'
  | 'notices'
  | 'license-link'
  | 'license-text'
  | 'work-link'
  | 'mark-changes'
  | 'same-license'
  | 'source'
  | 'no-extra-terms'
  | 'no-endorsement';

/**
 * When a duty holds: `share` whenever the work or an adaptation is passed on, `adapt` when a changed work is passed on,
 * `print` when the printed thing is passed on.
 */
export type DutyWhen = 'share' | 'adapt' | 'print';

/** One thing that a license asks for. */
export interface Duty extends Basis {
  readonly kind: DutyKind;
  readonly when: DutyWhen;
  readonly text: string;
  /** Whether leaving it out breaks the license; else it is custom, or asked for where practicable. */
  readonly required: boolean;
}

/** The elements of a Creative Commons license, the rows and columns of both published charts. */
export type Elements = 'PDM' | 'CC0' | 'BY' | 'BY-SA' | 'BY-NC' | 'BY-NC-SA' | 'BY-ND' | 'BY-NC-ND';

export type Family =
  | 'public-domain'
  | 'cc'
  | 'permissive'
  | 'apache'
  | 'cern-p'
  | 'cern-w'
  | 'cern-s'
  | 'cern-1'
  | 'gpl'
  | 'lgpl'
  | 'agpl'
  | 'free-art'
  | 'tapr'
  | 'reserved'
  | 'unknown';

/** What one license says, version by version. */
export interface License {
  /** SPDX id, of one version only: `GPL-2.0-or-later` is a choice between several. */
  readonly id: string;
  readonly title: string;
  /** Where its text stands; null where nobody published one. */
  readonly url: string | null;
  readonly family: Family;
  /** Only for `cc`, CC0 and the public domain mark. */
  readonly elements: Elements | null;
  readonly version: string;
  /** Jurisdiction of a port, e.g. `DE`; empty for others. */
  readonly port: string;
  /** Whether a changed version may be shared, only be kept, or not even be made. */
  readonly adapt: Basis & { readonly may: 'share' | 'keep' | 'no'; readonly why: string };
  /** Whether it may be used for money. */
  readonly commercial: Basis & { readonly may: boolean; readonly why: string };
  /** Whether it may lie unchanged beside works of other licenses in one pack. */
  readonly collect: Verdict;
  readonly duties: readonly Duty[];
}
