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
  /**
   * Corners in the same order that lie on each other within this share of the diagonal are one shape: some roundings of
   * 32-bit floats.
   */
  sameOrderOfDiagonal: 1e-5,
  /**
   * Shapes whose fingerprints are farther apart are not the same, whatever their place, size, hand and facets: the same
   * shape in the coarsest other facets that count as such lies within 0.003 (looked at on the parts of the demo).
   */
  sameShapeWithin: 0.01,
  otherFacetsWithin: 0.003,
  /**
   * A surface brought back to its size lies up to this many times half of what its diameter grew by off: edges of a bore
   * and its ground lie farther off than its wall. No source.
   */
  restoredReach: 2.5,
  /** Recorded letters read from history, at most: each takes some milliseconds. */
  letters: 500,
  /** A relative that was scaled and reworked: at some size a face of anything fits a face of anything. */
  scaledReworkedShare: 0.6,
  /**
   * What an audit compares at most: for derivations, and again for relatives that nobody declared. Counted in bytes of
   * the files compared, and `auditPairBytes` more for each comparison; a megabyte takes one to ten seconds of
   * computing, so that both end within one or two minutes on two cores. Counted and not timed, so that everybody gets
   * the same findings.
   */
  auditBytes: 8e6,
  auditPairBytes: 150_000,
  /** A comparison of what are likely the same triangles, as fingerprint and size of the files agree. */
  auditAlikeBytes: 30_000,
  /** Fingerprints of the same surface are no farther apart, roundings of 32-bit floats included. */
  alikeWithin: 1e-4,
  /**
   * In an audit a part is compared with so many of the shapes that lie within this distance of each other, or within
   * that share of their distance from it: what it has in common with one of them it has with the next.
   */
  auditAlike: 0.1,
  auditAlikeShare: 0.75,
  auditRepresentatives: 2,
  /** Parts of an older work that a part of another id is compared with, whether it was renamed. */
  renamedCandidates: 3,
  /** Comparisons that an audit decides on at a time; what they tell saves others. */
  auditWave: 32,
} as const;
