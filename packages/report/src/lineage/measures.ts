/** Sizes of a lineage drawing, in its own units (CSS px). Our own choice, by eye. */
export const measures = {
  margin: 56,
  head: 108,
  card: { width: 292, padding: 18, radius: 10 },
  address: 10.5,
  title: { size: 15, line: 20, lines: 3 },
  small: 11.5,
  bead: { radius: 10, pitch: 27 },
  lane: { first: 9, step: 8 },
  gap: { cards: 30, generations: 62, lines: 14 },
  arrow: 8,
  /** The length of the dimension line of the largest size. */
  ruler: 46,
  leastWidth: 1000,
} as const;
