import { closestHit, closestPoint, type Mesh, type TriangleTree } from '@kinprint/mesh';
import { unproject } from './camera.ts';
import { added, clay, removed, type Rgb } from './colors.ts';
import { forEachSpan, projectAll, type DepthImage } from './depth-image.ts';
import type { Paint } from './shade.ts';

/** A piece of material that was added or removed, as a closed surface. */
export interface ChangedSolid {
  readonly kind: 'added' | 'removed';
  readonly mesh: Mesh;
}

/**
 * Which samples of an image show the surface of a changed piece: its number from 1, or 0.
 *
 * A piece that was added has its outer faces on the surface of AFTER. A piece that was removed has them on the surface
 * of BEFORE; its inner faces, which look the other way, are the new surface of AFTER, where it was cut off. Pieces count
 * where one of their faces of the right side lies on what the image shows, within `within_mm` and a quarter of a sample,
 * and where that is farther than `within_mm` from the other surface: the films that booleans leave beside a piece, where
 * the two surfaces coincide, are no change.
 *
 * @param other the surface of the state that is not shown
 */
export function marksOf(
  image: DepthImage,
  pieces: readonly ChangedSolid[],
  shown: 'before' | 'after',
  other: TriangleTree,
  within_mm: number,
): Uint16Array {
  const marks = new Uint16Array(image.depth.length);
  const { depth, camera, samples } = image;
  const near = within_mm + 0.25 / (camera.pixelsPerMm * samples);
  let some = false;
  pieces.forEach(({ kind, mesh }, k) => {
    if (kind === 'added' && shown === 'before') return;
    const side = kind === 'removed' && shown === 'after' ? -1 : 1;
    forEachSpan(mesh, projectAll(mesh, camera, samples), image, (_, start, end, z, slope, facing) => {
      if (facing !== side) return;
      for (let n = start, d = z; n < end; n++, d += slope) {
        const off = depth[n] - d;
        if (off > near || off < -near || marks[n] !== 0) continue;
        marks[n] = k + 1;
        some = true;
      }
    });
  });
  if (some) dropCoincident(marks, image, other, within_mm);
  return marks;
}

/**
 * A distance cannot change faster than the place: after each search, what lies nearer to where it was made than it left
 * free needs none.
 */
function dropCoincident(
  marks: Uint16Array,
  { camera, samples, width, height, depth }: DepthImage,
  other: TriangleTree,
  within_mm: number,
): void {
  const [rx, ry, rz] = camera.right;
  const [ux, uy, uz] = camera.up;
  const [tx, ty, tz] = camera.toward;
  const step = 1 / (camera.pixelsPerMm * samples);
  const reach = within_mm + 32 * step;
  const [cx, cy, cz] = unproject(camera, 0.5 / samples, 0.5 / samples, 0);
  const hit = closestHit();
  let hint = -1;
  let freeSq = 0;
  let ox = 0;
  let oy = 0;
  let oz = 0;
  for (let row = 0, k = 0; row < height; row++) {
    for (let column = 0; column < width; column++, k++) {
      if (marks[k] === 0) continue;
      const u = column * step;
      const v = row * step;
      const d = depth[k];
      const x = cx + u * rx - v * ux + d * tx;
      const y = cy + u * ry - v * uy + d * ty;
      const z = cz + u * rz - v * uz + d * tz;
      const dx = x - ox;
      const dy = y - oy;
      const dz = z - oz;
      if (dx * dx + dy * dy + dz * dz < freeSq) continue;
      closestPoint(other, x, y, z, hit, reach * reach, hint);
      const free = (hit.face < 0 ? reach : Math.sqrt(hit.distanceSq)) - within_mm;
      if (hit.face >= 0) hint = hit.face;
      if (free < 0) marks[k] = 0;
      freeSq = free > 0 ? free * free : 0;
      ox = x;
      oy = y;
      oz = z;
    }
  }
}

/** Paints marked samples in the color of their kind, strewn with plus signs where material was added, minus signs where it was removed. */
export function markPaint(marks: Uint16Array, pieces: readonly ChangedSolid[]): Paint {
  const at = (sample: number, x: number, y: number): Rgb | null => {
    const mark = marks[sample];
    if (mark === 0) return null;
    const { kind } = pieces[mark - 1];
    return onSign(kind, x, y) ? signColor : kind === 'added' ? added : removed;
  };
  return { keys: marks, at };
}

const signColor: Rgb = [255, 255, 255];

/** Whether a pixel belongs to one of the signs that are strewn, in staggered rows, over all of the picture. */
export function onSign(kind: ChangedSolid['kind'], x: number, y: number): boolean {
  const [wide, high, arm] = [14, 11, 3];
  const row = Math.floor(y / high);
  const dx = ((x + (row % 2) * 7) % wide) - 6;
  const dy = (y % high) - 5;
  const level = dy === 0 && dx >= -arm && dx <= arm;
  return level || (kind === 'added' && dx === 0 && dy >= -arm && dy <= arm);
}

/** A patch of the pattern of a kind, for a legend. */
export function swatch(kind: ChangedSolid['kind'], width: number, height: number): Uint8ClampedArray {
  const data = new Uint8ClampedArray(4 * width * height);
  const color = kind === 'added' ? added : removed;
  for (let y = 0, k = 0; y < height; y++) {
    for (let x = 0; x < width; x++, k += 4) {
      const [r, g, b] = onSign(kind, x + 1, y + 3) ? signColor : color;
      data.set([r, g, b, 255], k);
    }
  }
  return data;
}

/** Colors that are mixed: `share` 0…1 of the first. */
export function mixed(a: Rgb, b: Rgb, share: number): Rgb {
  return [0, 1, 2].map(k => a[k as 0] * share + b[k as 0] * (1 - share)) as unknown as Rgb;
}

/** Material that did not change, where colors tell how much the rest did. */
export const unchanged = clay;

/** Where a mark is seen: the samples it takes up, and the pixel of it that lies nearest to their middle. */
export interface Sighting {
  readonly samples: number;
  readonly x: number;
  readonly y: number;
}

/** Of each piece where it is seen; null where it is not. */
export function sightings(marks: Uint16Array, image: DepthImage, pieces: number): (Sighting | null)[] {
  const { width, height, samples } = image;
  const n = new Uint32Array(pieces + 1);
  const sumX = new Float64Array(pieces + 1);
  const sumY = new Float64Array(pieces + 1);
  for (let y = 0, k = 0; y < height; y++) {
    for (let x = 0; x < width; x++, k++) {
      const mark = marks[k];
      if (mark === 0) continue;
      n[mark]++;
      sumX[mark] += x;
      sumY[mark] += y;
    }
  }
  const nearest = new Float64Array(pieces + 1).fill(Infinity);
  const at = new Int32Array(pieces + 1).fill(-1);
  for (let y = 0, k = 0; y < height; y++) {
    for (let x = 0; x < width; x++, k++) {
      const mark = marks[k];
      if (mark === 0) continue;
      const dx = x - sumX[mark] / n[mark];
      const dy = y - sumY[mark] / n[mark];
      const distanceSq = dx * dx + dy * dy;
      if (distanceSq < nearest[mark]) {
        nearest[mark] = distanceSq;
        at[mark] = k;
      }
    }
  }
  return Array.from({ length: pieces }, (_, piece) => {
    const mark = piece + 1;
    return n[mark] === 0
      ? null
      : {
          samples: n[mark],
          x: ((at[mark] % width) + 0.5) / samples,
          y: (Math.floor(at[mark] / width) + 0.5) / samples,
        };
  });
}
