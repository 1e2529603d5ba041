/** From when on a difference is told, each with where it comes from. */
export const reviewDefaults = {
  /** Share by which the thinnest wall must have shrunk: walls are measured by rays, and grains differ. No source. */
  wallShare: 0.05,
  /** Share by which the overhang must have grown, and by how much: a few facets more need no support. No source. */
  overhangShare: 0.1,
  overhang_mm2: 10,
  /** Share by which the mass must differ. Common practice, no source. */
  massShare: 0.02,
  /** Sizes closer than this are the same measured twice: two grains of a circle's fit. No source. */
  sameSize_mm: 0.01,
} as const;
