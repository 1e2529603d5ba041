import { closestHit, closestPoint, type TriangleTree, type Vec3 } from '@kinprint/mesh';
import { unproject } from './camera.ts';
import { deviationSign } from './deviation-sign.ts';
import type { ChangedSolid } from './marks.ts';
import type { View } from './panel.ts';

/** How far what each pixel shows lies from another surface, in mm: outward positive; NaN where nothing is seen. */
export interface DeviationField {
  readonly width: number;
  readonly height: number;
  readonly values: Float32Array;
  /** The largest distance either way. */
  readonly most_mm: number;
}

/**
 * The deviation of the surface that is seen from `tree`'s, at the middle of each pixel.
 *
 * The sign is that of the piece that the pixel belongs to; elsewhere that of `deviationSign`.
 *
 * @param marks per sample, the piece from 1, or 0
 */
export function deviationField(
  { surface, image }: View,
  tree: TriangleTree,
  marks: Uint16Array,
  pieces: readonly ChangedSolid[],
  tolerance_mm: number,
): DeviationField {
  const { camera, samples, width, depth, face } = image;
  const { width_px, height_px } = camera;
  const values = new Float32Array(width_px * height_px).fill(NaN);
  const middle = samples >> 1;
  const hit = closestHit();
  let most_mm = 0;
  let hint = -1;
  for (let y = 0; y < height_px; y++) {
    for (let x = 0; x < width_px; x++) {
      const at = (y * samples + middle) * width + x * samples + middle;
      const f = face[at];
      if (f < 0) continue;
      const p = unproject(camera, x + (middle + 0.5) / samples, y + (middle + 0.5) / samples, depth[at]);
      closestPoint(tree, p[0], p[1], p[2], hit, Infinity, hint);
      if (hit.face < 0) continue;
      hint = hit.face;
      const distance = Math.sqrt(hit.distanceSq);
      const value = distance <= tolerance_mm ? 0 : distance * sign(at, f, p);
      values[y * width_px + x] = value;
      if (distance > most_mm) most_mm = distance;
    }
  }
  return { width: width_px, height: height_px, values, most_mm };

  function sign(sample: number, f: number, p: Vec3): 1 | -1 {
    const mark = marks[sample];
    if (mark > 0) return pieces[mark - 1].kind === 'added' ? 1 : -1;
    return deviationSign(tree, p, hit, surface.normals, 3 * f);
  }
}

/** Lines along which the field has a value, in pixels: each piece x, y, x, y. Marching squares; nothing where it is not known. */
export function contour({ width, height, values }: DeviationField, level: number): number[][] {
  const lines: number[][] = [];
  const cut = (a: number, b: number): number => (level - a) / (b - a);
  for (let y = 0; y + 1 < height; y++) {
    for (let x = 0; x + 1 < width; x++) {
      const k = y * width + x;
      const [a, b, c, d] = [values[k], values[k + 1], values[k + width + 1], values[k + width]];
      // Also false where one of them is unknown.
      if (!(Math.min(a, b, c, d) < level && Math.max(a, b, c, d) >= level)) continue;
      const ends: number[] = [];
      if (a < level !== b < level) ends.push(x + 0.5 + cut(a, b), y + 0.5);
      if (b < level !== c < level) ends.push(x + 1.5, y + 0.5 + cut(b, c));
      if (d < level !== c < level) ends.push(x + 0.5 + cut(d, c), y + 1.5);
      if (a < level !== d < level) ends.push(x + 0.5, y + 0.5 + cut(a, d));
      for (let n = 0; n + 3 < ends.length; n += 4) lines.push(ends.slice(n, n + 4));
    }
  }
  return lines;
}
