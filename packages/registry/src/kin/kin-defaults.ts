/** Limits and thresholds of the search for kin. Set by judgment, looked at on the parts of `test/kin`; no source. */
export const kinDefaults = {
  /** Relatives told of one part, at most. */
  limit: 20,
  /** Neighbors in the index that are compared, for each part and for each of its bodies. */
  candidates: 24,
  /** Neighbors farther than this are not compared: unlike parts lie 0.4 to 1.2 apart, reworked ones below 0.2. */
  farthest: 0.35,
  /** A part of more bodies is looked up as a whole only. */
  bodies: 32,
  /** A body below this share of its file's area is not looked up by itself: screws and knobs are alike everywhere. */
  bodyShare: 0.05,
  /**
   * Surfaces nowhere farther apart than this share of the diagonal are one shape: 0.035 mm on 70 mm, between the
   * rounding of exports and the least change anyone makes on purpose.
   */
  sameOfDiagonal: 5e-4,
  /** Of other facets at least this much of both surfaces coincides within `sameOfDiagonal`. */
  otherFacetsShare: 0.6,
  /** From this factor on (either way) a shape is told to be scaled. */
  scaledFrom: 2e-3,
  /** A reworked relative shares at least this of both surfaces. */
  reworkedShare: 0.35,
  /** Recorded letters read from history, at most: each takes some milliseconds. */
  letters: 500,
  /** A relative that was scaled and reworked: at some size a face of anything fits a face of anything. */
  scaledReworkedShare: 0.6,
} as const;
