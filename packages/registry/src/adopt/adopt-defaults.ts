/** How a directory or repository is judged when it becomes a device. Common practice, no source, unless said otherwise. */
export const adoptDefaults = {
  /** Endings of editable models, which belong beside the meshes made from them. */
  modelEndings: [
    '.scad',
    '.step',
    '.stp',
    '.iges',
    '.igs',
    '.brep',
    '.f3d',
    '.fcstd',
    '.blend',
    '.sldprt',
    '.3dm',
    '.dxf',
  ],
  /** Commits followed back; what is older is said to be left out. */
  maxCommits: 20_000,
  /** States whose shapes are compared with the next one's; older ones are taken together. */
  maxStates: 2_000,
  /** Letters A … Y, AA … YY of 20 letters each: 20 + 20 · 20 (ASME Y14.35 practice). */
  maxLetters: 420,
  /** Distance of summaries below which shapes may be copies of each other at different scales. */
  scaledAlike: 0.003,
  /** Each part is compared with at most this many others for being its twin, its copy or its other size. */
  candidates: 6,
  /** Share of both surfaces that coincides in two sizes, or two hands, of one parametric part. */
  kinMatched: 0.3,
  /** A part differs from its mirror image by less than this: it fits both hands. A quarter of a usual layer height. */
  symmetric_mm: 0.05,
  /** Plain numbers below this count pieces (`pad-1`, `pad-2`) unless the shapes are scaled copies of each other. */
  smallestSizeNumber: 10,
  /** What of a README or a license file is read. */
  maxTextBytes: 256 * 1024,
} as const;
