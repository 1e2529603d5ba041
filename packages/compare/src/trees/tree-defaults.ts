/** How files are paired by shape. Common practice, no source, unless said otherwise. */
export const treeDefaults = {
  /** Shapes this close by their summaries are taken for congruent, and compared first. Re-tessellation stays below. */
  congruent: 0.003,
  /** Beyond this distance two shapes are not compared … */
  alike: 0.35,
  /** … unless their paths are as alike as `namesAlike`. */
  alikeByName: 1,
  namesAlike: 0.6,
  /** How much equal paths bring two shapes nearer. */
  nameBonus: 0.1,
  /** Each file is compared with at most this many others. */
  candidates: 3,
  /** An unsound pair counts as a match when this share of its surfaces coincides. */
  unsoundMatched: 0.3,
  /** A file without counterpart descends from one that has its own when this share of their surfaces coincides. */
  descendantMatched: 0.5,
  /** Files of more bodies are compared as wholes only. */
  bodiesPaired: 64,
  /** A body on a plate may differ this much from the file it came from: saved in finer chords, say. */
  gatheredAlike: 0.1,
  /** A piece lies in the whole when at most this share of its volume sticks out. */
  pieceOutside: 0.02,
  /** Pieces make up the whole when their volumes sum to it within these shares: sawing and gluing take a little. */
  piecesLeast: 0.9,
  piecesMost: 1.02,
  /** Pieces looked at for one whole. */
  piecesTried: 8,
} as const;
