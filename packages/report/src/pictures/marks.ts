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
  pieces.forEach(({ kind, mesh }, k) => {
    if (kind === 'added' && shown === 'before') return;
    const side = kind === 'removed' && shown === 'after' ? -1 : 1;
    forEachSpan(mesh, projectAll(mesh, camera, samples), image, (_, start, end, z, slope, facing) => {
      if (facing !== side) return;
      for (let n = start, d = z; n < end; n++, d += slope) {
        const off = depth[n] - d;
        if (off <= near && off >= -near && marks[n] === 0) marks[n] = k + 1;
      }
    });
  });
  dropCoincident(marks, image, other, within_mm);
  return marks;
}

function dropCoincident(
  marks: Uint16Array,
  { camera, samples, width, depth }: DepthImage,
  other: TriangleTree,
  within_mm: number,
): void {
  const hit = closestHit();
  let hint = -1;
  for (let k = 0; k < marks.length; k++) {
    if (marks[k] === 0) continue;
    const [x, y] = [k % width, Math.floor(k / width)];
    const p = unproject(camera, (x + 0.5) / samples, (y + 0.5) / samples, depth[k]);
    closestPoint(other, p[0], p[1], p[2], hit, within_mm * within_mm, hint);
    if (hit.face < 0) continue;
    hint = hit.face;
    marks[k] = 0;
  }
}

/** Paints marked samples in the color of their kind, strewn with plus signs where material was added, minus signs where it was removed. */
export function markPaint(marks: Uint16Array, pieces: readonly ChangedSolid[]): Paint {
  return (sample, x, y) => {
    const mark = marks[sample];
    if (mark === 0) return null;
    const { kind } = pieces[mark - 1];
    return onSign(kind, x, y) ? signColor : kind === 'added' ? added : removed;
  };
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
  const { width, samples } = image;
  const sums = Array.from({ length: pieces }, () => ({ n: 0, x: 0, y: 0 }));
  for (let k = 0; k < marks.length; k++) {
    if (marks[k] === 0) continue;
    const sum = sums[marks[k] - 1];
    sum.n++;
    sum.x += k % width;
    sum.y += Math.floor(k / width);
  }
  const best = sums.map(() => ({ distance: Infinity, at: -1 }));
  for (let k = 0; k < marks.length; k++) {
    if (marks[k] === 0) continue;
    const { n, x, y } = sums[marks[k] - 1];
    const dx = (k % width) - x / n;
    const dy = Math.floor(k / width) - y / n;
    const distance = dx * dx + dy * dy;
    const found = best[marks[k] - 1];
    if (distance < found.distance) {
      found.distance = distance;
      found.at = k;
    }
  }
  return sums.map(({ n }, k) =>
    n === 0
      ? null
      : {
          samples: n,
          x: ((best[k].at % width) + 0.5) / samples,
          y: (Math.floor(best[k].at / width) + 0.5) / samples,
        },
  );
}
