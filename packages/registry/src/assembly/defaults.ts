/** Limits of assemblies, each with where it comes from. */
export const assemblyDefaults = {
  /** Axes may be off by half the clearance of the pair, and this: the usual tolerance of an interface. No source. */
  offset_mm: 0.1,
  /** Angle between axes that still counts as in line: what fitting a short faceted bore leaves. No source. */
  angle_deg: 1,
  /** Bores that are off by no more than their width and this angle miss each other; others do not belong. No source. */
  missed_deg: 10,
  /** Measured diameters are taken to the micrometer: 32-bit coordinates and a circle fit leave less (IEEE 754). */
  measured_mm: 1e-3,
  /** An interference grew or shrank when its volume did by more than this share. Common practice, no source. */
  volumeShare: 0.01,
  /** Pairs of boxes that share space and are still looked at: more are no device, and take hours. No source. */
  maxPairs: 20_000,
  /** Bores and pins of one mating pair, in all their copies, whose axes are compared. No source. */
  maxLines: 1_000_000,
} as const;
