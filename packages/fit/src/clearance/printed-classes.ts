/** Smallest and largest clearance on the diameter, in millimeters; negative is interference. */
export interface ClearanceRange {
  readonly least_mm: number;
  readonly most_mm: number;
  /** Where the limits come from. */
  readonly source: string;
}

/** How parts made by filament extrusion go together. */
export type PrintedClass = 'press' | 'snug' | 'sliding';

const source = 'common practice, no source; a test print on the actual printer decides';

/**
 * Clearances on the diameter: twice the gap of each side, as guides mostly give it. They differ among each other by as
 * much as the classes do.
 */
export const printedClasses: Readonly<Record<PrintedClass, ClearanceRange>> = {
  /** Pressed in once, held by friction. */
  press: { least_mm: 0.2, most_mm: 0.4, source },
  /** Pushed together by hand. */
  snug: { least_mm: 0.4, most_mm: 0.6, source },
  /** Slides or turns freely: a hinge pin. */
  sliding: { least_mm: 0.6, most_mm: 1, source },
};
