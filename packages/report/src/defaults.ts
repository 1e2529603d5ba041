/** Limits of what is shown. */
export const reportDefaults = {
  /** Variants in one picture; a wall of more can be drawn, but not looked at. By eye, no source. */
  lineageCards: 200,
} as const;
