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
 * The deviation of the surface that is seen from `tree`'s, at the middle of each pixel; of every other one that of its
 * neighbors, where one flat face lies over one of the other surface: there it is as good as linear.
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
  /** Of each pixel, the face of the tree that lies nearest. */
  const nearest = new Int32Array(values.length).fill(-1);
  let most_mm = 0;
  let hint = -1;
  for (let y = 0; y < height_px; y += 2) {
    for (let x = 0; x < width_px; x += 2) ask(x, y);
    for (let x = 1; x < width_px; x += 2) if (x + 1 === width_px || !between(x, y, 1)) ask(x, y);
  }
  for (let y = 1; y < height_px; y += 2)
    for (let x = 0; x < width_px; x++) if (y + 1 === height_px || !between(x, y, width_px)) ask(x, y);
  return { width: width_px, height: height_px, values, most_mm };

  function sampleOf(x: number, y: number): number {
    return (y * samples + middle) * width + x * samples + middle;
  }

  function ask(x: number, y: number): void {
    const at = sampleOf(x, y);
    const f = face[at];
    if (f < 0) return;
    const p = unproject(camera, x + (middle + 0.5) / samples, y + (middle + 0.5) / samples, depth[at]);
    closestPoint(tree, p[0], p[1], p[2], hit, Infinity, hint);
    if (hit.face < 0) return;
    hint = hit.face;
    const distance = Math.sqrt(hit.distanceSq);
    const k = y * width_px + x;
    nearest[k] = hit.face;
    values[k] = distance <= tolerance_mm ? 0 : distance * sign(at, f, p);
    if (distance > most_mm) most_mm = distance;
  }

  /** Takes the mean of two neighbors where they lie on the same face, over the same face, and on the same side of it. */
  function between(x: number, y: number, step: number): boolean {
    const k = y * width_px + x;
    const [dx, dy] = step === 1 ? [1, 0] : [0, 1];
    const f = face[sampleOf(x, y)];
    if (f < 0 || face[sampleOf(x - dx, y - dy)] !== f || face[sampleOf(x + dx, y + dy)] !== f) return false;
    const over = nearest[k - step];
    if (over < 0 || nearest[k + step] !== over) return false;
    const [a, b] = [values[k - step], values[k + step]];
    if (Math.sign(a) !== Math.sign(b)) return false;
    values[k] = (a + b) / 2;
    nearest[k] = over;
    return true;
  }

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
