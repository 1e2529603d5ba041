/** How lines are made from what was measured, each with where it comes from. */
export const prepareDefaults = {
  /** Sizes are drawn in steps of this. Common practice, no source. */
  grain_mm: 0.05,
  /** Share of the full turn from which a round is a bore or a pin that takes something. No source. */
  leastTurn: 0.75,
  /** Rounds of one size of which each gets its place; more become one interface with a count. No source. */
  mostPlaced: 4,
  /** Interfaces that are offered for one part: a grille has hundreds. No source. */
  mostInterfaces: 12,
  /** Signs of a sentence about what changed. No source. */
  sentence: 400,
} as const;
