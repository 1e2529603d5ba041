/** Defaults of the comparison, each with its reason. */
export const compareDefaults = {
  /** 'Same' within 1 µm: far below what any printer resolves, far above the rounding of 32-bit floats. */
  sameTolerance_mm: 1e-3,
  /** … but never below this share of the diagonal, where 32-bit coordinates stop resolving (2⁻²³ ≈ 1.2e-7). */
  sameToleranceOfDiagonal: 1e-6,
  /** … nor above this share: a file written in meters and read as millimeters is 0.1 mm large. */
  sameToleranceCapOfDiagonal: 1e-4,
  /** PLA, the usual filament: 1.24 g/cm³ (densities of two grades in a journal's table of raw materials). */
  density_g_cm3: 1.24,
  /** Factors that mean another unit, not another design: inch, centimeter, meter in millimeters. */
  unitFactors: [25.4, 10, 1000],
  /** Directions of two features count as one below this angle; exports turn by float noise, designs by more. */
  featureAngle_deg: 2,
  /** A feature is looked for within this share of the diagonal of where it was. */
  featureReachOfDiagonal: 0.15,
  /** Planes below this share of the surface are not listed when they appear or go. */
  planeShareListed: 0.02,
  /** Bodies in one file that are matched one by one; beyond, only the whole is compared. */
  bodiesMatched: 256,
} as const;

/**
 * The distance in mm below which two surfaces are the same, for a part with the given diagonal: 1 µm or 1e-6 of
 * the diagonal, whichever is larger; for parts under 10 mm, 1e-4 of the diagonal.
 */
export function sameTolerance(diagonal_mm: number): number {
  const d = compareDefaults;
  return Math.max(
    Math.min(d.sameTolerance_mm, d.sameToleranceCapOfDiagonal * diagonal_mm),
    d.sameToleranceOfDiagonal * diagonal_mm,
  );
}
