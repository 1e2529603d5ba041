import type { Alignment } from './comparison.ts';

const still = {
  matrix: [
    [1, 0, 0, 0],
    [0, 1, 0, 0],
    [0, 0, 1, 0],
    [0, 0, 0, 1],
  ],
  translation_mm: [0, 0, 0],
  rotation_deg: 0,
  rotation_axis: null,
  scale: [1, 1, 1],
  mirrored: false,
} as const;

/** Nothing aligns the two; the matrix is the identity and means nothing. */
export const noAlignment: Alignment = { kind: 'none', ...still, matched: 0 };

/** Where the meshes stand, with the share of both surfaces that coincides there. */
export function placed(matched: number): Alignment {
  return { kind: 'identity', ...still, matched };
}
