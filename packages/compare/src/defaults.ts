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
  /** The depth of a region is known to this share of itself: finer says nothing to a person. */
  depthError: 0.01,
  /** Pieces of facets looked at for one depth; a cap against endless refinement. */
  depthPieces: 20_000,
  /** The same for all regions of a comparison together: about 0.2 s. */
  depthPiecesInAll: 40_000,
  /**
   * When every deviation stays below this share of the diagonal and the facets differ, another chord tolerance is the
   * likely reason: exporters' usual settings lie between 0.01 and 0.1 mm (common practice, no source).
   */
  chordShareOfDiagonal: 2e-3,
  /** A rescaled and reworked part shares at least this of both surfaces; by chance a scaled face always fits some. */
  scaledShare: 0.6,
  /** Nobody rescales a part by less than this; tessellations of one round shape differ by less. */
  scaledFrom: 0.03,
  /** Alignments tried for each body of a file of several, at most on average. */
  bodyAlignments: 6,
  /** Bodies in one file that are matched one by one; beyond, only the whole is compared. */
  bodiesMatched: 256,

  // Deviation. Chosen on shapes with known answers; common practice, no source.
  /** What differs of a surface is sampled in at least so many pieces, whatever its triangles … */
  deviationLeastPieces: 4096,
  /** … and in pieces no smaller than one of so many, unless its triangles are. */
  deviationMostPieces: 65_536,
  /** Error of the mean distance that is aimed at, as a share of it (one standard deviation). */
  deviationMeanError: 3e-3,
  /** Measurements spent on that beyond the least pieces: about 0.05 s. */
  deviationRefinements: 60_000,
  /** Pieces looked at to bound the maximum: so many, and so many per face. Then the error reached is reported. */
  deviationPieces: 300_000,
  deviationPiecesPerFace: 40,

  // Alignment. Where no source is named the value was chosen on generated parts; common practice, no source.
  /** Sample points per surface: enough that a share is known to about ±2 % (binomial, 2 σ). */
  alignSamples: 2048,
  /** Samples for a first look at a placement, and for the choice among the best. */
  alignFirstSamples: 96,
  alignChoiceSamples: 512,
  /** Coordinates are rounded on export and again after a motion: this many half units in the last place. */
  alignRoundings: 8,
  /** Points farther apart than this share of the diagonal speak for no placement. */
  alignFarOfDiagonal: 0.01,
  /** Normals must agree within 60°: facets of a coarse arc differ by up to 30° from those of another one. */
  alignNormalCosine: 0.5,
  /** Iterations of one refinement; it converges within 10 to 15. */
  alignRefineSteps: 40,
  /** A refinement goes on as long as this share of the samples stays within its reach … */
  alignRefineShare: 0.08,
  /** … and this many: twice the seven unknowns. */
  alignRefineLeast: 14,
  /** A smaller reach is believed when the share of points hardly falls: no faster than the reach to this power. */
  alignThinning: 0.15,
  /** Directions whose curvature is below this share of the stiffest one count as free to slide. */
  alignFreeDirection: 1e-7,
  /** Two placements nearer than this share of the diagonal are one candidate. */
  alignClusterOfDiagonal: 1e-3,
  /** Candidates kept from each source. */
  alignCandidates: 64,
  /** A first look may mislead by this much: ±2 σ of a share from twice `alignFirstSamples` points. */
  alignScoreMargin: 0.1,
  /** Samples that refine a placement. */
  alignRefineSamples: 400,
  /** Candidates are this share of the diagonal off before they are refined, at most. */
  alignOffOfDiagonal: 4e-3,
  /** A scaling must fit better than a rigid motion by this much, a reflection by this. */
  alignScaleHandicap: 0.08,
  alignMirrorHandicap: 0.015,
  /** From this worth on no further source is asked … */
  alignSure: 0.985,
  /** … and from this on no guessing from principal axes. */
  alignGood: 0.75,
  /** Guessing from principal axes: samples of the first look, guesses drawn closer, samples for that. */
  alignRoughSamples: 40,
  alignRoughRefined: 12,
  alignRoughRefineSamples: 200,
  alignRoughSteps: 16,
  /** Placements that score this alike, or whose shares of coinciding area are this alike, are equally good. */
  alignEqualScore: 0.004,
  alignEqualShare: 1e-3,
  /**
   * Changes of a remix no deeper than this may be facets of a surface that was tessellated anew: a bore of 8 mm in 14
   * facets is within 0.1 mm of a round one. They are said to be from so many on. Common practice, no source.
   */
  facetDepth_mm: 0.1,
  facetPlaces: 12,
  /** A remix with this share of its faces bit for bit where the base's are was not moved. Common practice, no source. */
  standingShare: 0.9,
  /** Placements with less are not tested for an exact fit; those whose kinship is tested. */
  alignExactScore: 0.97,
  alignFinalists: 4,
  /** Samples for the question whether the shapes are kin: shares are known to ±3 %. */
  alignEvidenceSamples: 1024,
  /** Share of both surfaces in the very same triangles that ends the search. */
  alignKeptTriangles: 0.5,
  /**
   * Share of both surfaces that a rigid motion fits before scaling is ruled out, unless area and volume agree on a
   * factor: two blocks of different size that share a corner coincide in three of six faces, at most half.
   */
  alignRigidShare: 0.6,
  /** Scale factors tried when no rigid motion will do. */
  alignScales: 8,
  /**
   * Kin: this share of both surfaces coincides within the tolerance. A part of which one wall in seven was kept is
   * still that part when the kept piece fixes its place.
   */
  kinTightShare: 0.15,
  /** Or: this share lies within 1 % of the diagonal. A box and a ball of one size reach about 0.2. */
  kinLooseShare: 0.65,
  kinLooseHold: 0.4,
  /** … and the coinciding part holds the shape in its weakest direction by this share of what the whole would. */
  kinHold: 0.1,
  /** Candidates that are refined. */
  alignRefined: 4,
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
