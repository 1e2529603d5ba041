import type { DepthImage } from './depth-image.ts';
import type { Surface } from './surface.ts';

/** Neighbors that are looked at; more give smoother shadows. */
const taps = 20;

/** Points of a spiral in the unit disk, turned by the golden angle from one to the next. */
const spiral = ((): Float64Array => {
  // Cosine and sine of the golden angle, π(3 − √5), as literals: the same on every machine.
  const [c, s] = [-0.7373688780783197, 0.6754902942615238];
  const out = new Float64Array(2 * taps);
  let [x, y] = [1, 0];
  for (let k = 0; k < taps; k++) {
    const radius = Math.sqrt((k + 0.5) / taps);
    out[2 * k] = radius * x;
    out[2 * k + 1] = radius * y;
    [x, y] = [c * x - s * y, s * x + c * y];
  }
  return out;
})();

/** The pixels between are as their neighbor: shadows of this kind have no edges of their own. */
const coarse = 2;

/**
 * How much of the sky is hidden from each pixel, 0…1, by what stands within `radius_mm` in the image: surfaces that rise
 * over the tangent plane, as in the obscurance of M. McGuire, B. Osman, M. Bukowski, P. Hennessy, The Alchemy
 * screen-space ambient obscurance algorithm, High Performance Graphics 2011; then smoothed.
 */
export function occlusion(surface: Surface, image: DepthImage, radius_mm: number): Float32Array {
  const { camera, samples, width, depth, face } = image;
  const { width_px, height_px, right, up, toward } = camera;
  const { normals } = surface;
  const out = new Float32Array(width_px * height_px);
  const reach = Math.min(radius_mm * camera.pixelsPerMm, 120);
  if (reach < 1.5) return out;
  const mm = 1 / camera.pixelsPerMm;
  const middle = samples >> 1;
  const scale = reach * mm * (reach * mm);
  const root = reach * mm;
  const columns = Math.ceil(width_px / coarse);
  const rows = Math.ceil(height_px / coarse);
  const raw: Coarse = {
    columns,
    rows,
    near_mm: 3 * coarse * mm,
    depth: new Float32Array(columns * rows).fill(-Infinity),
    value: new Float32Array(columns * rows),
  };
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const x = column * coarse;
      const y = row * coarse;
      const at = (y * samples + middle) * width + x * samples + middle;
      const f = face[at];
      if (f < 0) continue;
      const k = 3 * f;
      let nx = normals[k] * right[0] + normals[k + 1] * right[1] + normals[k + 2] * right[2];
      let ny = normals[k] * up[0] + normals[k + 1] * up[1] + normals[k + 2] * up[2];
      let nz = normals[k] * toward[0] + normals[k + 1] * toward[1] + normals[k + 2] * toward[2];
      if (nz < 0) {
        nx = -nx;
        ny = -ny;
        nz = -nz;
      }
      const z = depth[at];
      let sum = 0;
      for (let n = 0; n < taps; n++) {
        const dx = Math.round(spiral[2 * n] * reach);
        const dy = Math.round(spiral[2 * n + 1] * reach);
        const px = x + dx;
        const py = y + dy;
        if (px < 0 || py < 0 || px >= width_px || py >= height_px) continue;
        const to = depth[(py * samples + middle) * width + px * samples + middle];
        if (to === -Infinity) continue;
        const vx = dx * mm;
        const vy = -dy * mm;
        const vz = to - z;
        const lengthSq = vx * vx + vy * vy + vz * vz;
        const rise = nx * vx + ny * vy + nz * vz - 0.02 * root;
        if (rise > 0) sum += (rise * root) / (lengthSq + 0.15 * scale);
      }
      const hidden = (1.1 * sum) / taps;
      raw.depth[row * columns + column] = z;
      raw.value[row * columns + column] = hidden > 1 ? 1 : hidden;
    }
  }
  const smooth = smoothed({ ...raw, value: smoothed(raw, 1) }, columns);
  for (let y = 0, k = 0; y < height_px; y++) {
    const row = Math.floor(y / coarse) * columns;
    for (let x = 0; x < width_px; x++, k++) out[k] = smooth[row + Math.floor(x / coarse)];
  }
  return out;
}

interface Coarse {
  readonly columns: number;
  readonly rows: number;
  /** Depths that differ by less belong to one surface. */
  readonly near_mm: number;
  readonly depth: Float32Array;
  readonly value: Float32Array;
}

/** Mean over five places along rows (`step` 1) or columns, of those that lie at about the same depth. */
function smoothed({ columns, rows, near_mm, depth, value }: Coarse, step: number): Float32Array {
  const out = new Float32Array(value.length);
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const k = row * columns + column;
      const z = depth[k];
      if (z === -Infinity) continue;
      const at = step === 1 ? column : row;
      const end = step === 1 ? columns : rows;
      let sum = 0;
      let count = 0;
      for (let n = at < 2 ? -at : -2; n <= 2 && at + n < end; n++) {
        const d = depth[k + n * step] - z;
        if (d > near_mm || d < -near_mm) continue;
        sum += value[k + n * step];
        count++;
      }
      out[k] = sum / count;
    }
  }
  return out;
}
