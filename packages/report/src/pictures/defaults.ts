/** How pictures are drawn. By eye and common practice, no source, except where one is named. */
export const pictureDefaults = {
  /** px; of a part and of a change. */
  part: { width: 1200, height: 900 },
  change: { width: 1500, height: 1060 },
  /** Smaller ones cannot be read; larger ones take more memory than a picture is worth. */
  least: { part: { width: 240, height: 180 }, change: { width: 900, height: 640 } },
  most: { width: 4096, height: 4096 },
  /** Faces that meet at more than 30° leave an edge; the same limit smooths the shading of those that do not. */
  creaseCosine: 0.866,
  /** Above so many faces each takes up a few pixels, and is drawn in its own tone. */
  smoothFaces: 100_000,
  /** Above so many faces fewer directions are tried. */
  manyFaces: 120_000,
  /** Parts of more faces than this together are drawn side by side, one after the other: memory. */
  assemblyFaces: 4_000_000,
  /**
   * All pictures of a part are given up after this long and so much more for each triangle. 200 000 triangles take some
   * seconds on a machine that is busy.
   */
  drawing: {
    time_ms: 60_000,
    timePerTriangle_ms: 0.03,
    /** Parts of a review whose change is drawn from all sides. */
    detailed: 400,
    /** Drawings of a review that are held in memory; what is more goes through files. */
    memory_bytes: 256 * 1024 ** 2,
  },
  /** Call-outs of one picture. */
  callOuts: 6,
  /** A closer look is taken when the changes can be drawn so much larger, and it enlarges at most so much. */
  closer: { from: 1.3, most: 12 },
} as const;
