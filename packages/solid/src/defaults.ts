/** Defaults of this package, each with its source. */
export const defaults = {
  /**
   * Relative size of the smallest difference that counts, as a share of the diagonal. Source: the project's rule for
   * 'same' (1 µm or 1e-6 of the diagonal); single-precision files carry 6e-8.
   */
  relativeTolerance: 1e-6,
  /**
   * Below this many faces (both meshes together) cutting costs more than it saves. Source: own measurement,
   * docs/decisions/0003-material-difference.md.
   */
  wholeBelowFaces: 2000,
  /** When the neighborhoods hold more than this share of the faces, the whole boolean runs. Source: own measurement. */
  wholeAboveShare: 0.6,
  /** At most this many neighborhoods: each costs some passes over both meshes. Source: own measurement. */
  maxBoxes: 8,
  /** What two meshes share is made coarse when at most this share of the faces is not shared … */
  coarsenBelowShare: 0.3,
  /** … and at most this share of the faces is left then. Source of both: own measurement. */
  coarsenedShare: 0.7,
  /** What is not shared gets at most this many hulls, or one around all: each costs a pass. Source: own measurement. */
  maxHulls: 8,
  /** Margin around changed faces, as a share of the neighborhood's own diagonal. Common practice, no source. */
  boxMargin: 0.02,
  /** The same as a share of the whole diagonal: the least margin. Common practice, no source. */
  leastBoxMargin: 1e-4,
  /** At most this many regions are told apart where rounding hangs them together. Common practice, no source. */
  maxRegionsPerFilm: 64,
  /** Triangles bisected to free the regions of a neighborhood from films, in all; each may take half of what is left … */
  filmVisits: 30_000,
  /** … as long as that is this many: with fewer nothing is gained. Source of both: own measurement of time. */
  leastFilmVisits: 64,
  /** Changes of two remixes nearer than this touch: printed, they would run together. Common practice, no source. */
  touch_mm: 0.05,
  /**
   * Changes of two remixes nearer than this are told, as what is left between them may be thin: two extrusion widths
   * of a 0.4 mm nozzle. Common practice, no source.
   */
  nearChanges_mm: 0.8,
  /** Pieces that one remix may change: more are a surface tessellated anew, not changes. Common practice, no source. */
  maxCombinedPieces: 500,
  /** The base is moved out by this share of the tolerance to part changes from films. Common practice, no source. */
  offsetShare: 0.25,
  /**
   * Where faces of a combination cross, what is so many times as large as the usual noise (0.0025 and 0.01 mm at the
   * usual tolerance of 0.001 mm) is tidied up …
   */
  rougherNoise: [10, 40],
  /** … and changes are taken between surfaces so many times farther off. Source of both: own trials. */
  widerOffsets: [4, 16],
  /**
   * Placed parts interfere from this depth on: half the tolerance that interfaces have. Seated parts touch, and drawn
   * contact overlaps by what facets and rounding leave; a printer resolves no less. Common practice, no source.
   */
  contactDepth_mm: 0.05,
  /** … and from this volume on: a grain of one extrusion width (0.4 mm) each way. Common practice, no source. */
  contactVolume_mm3: 0.064,
  /** The depth of an interference is found to within this share … */
  depthShare: 0.01,
  /** … in at most so many bisections: about a second. Source: own measurement. */
  depthVisits: 50_000,
} as const;
