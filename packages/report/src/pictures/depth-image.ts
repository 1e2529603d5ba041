import type { Mesh } from '@kinprint/mesh';
import { drawable, type Camera } from './camera.ts';

/**
 * What a camera sees, `samples` × `samples` times per pixel: sample (i, j) lies at ((i + ½)/samples, (j + ½)/samples)
 * pixels from the upper left corner.
 */
export interface DepthImage {
  readonly camera: Camera;
  readonly samples: number;
  /** In samples. */
  readonly width: number;
  readonly height: number;
  /** mm toward the eye from the camera's center; −Infinity where nothing is. */
  readonly depth: Float32Array;
  /** The face that is seen; −1 where none is. */
  readonly face: Int32Array;
}

/** Vertices of a mesh in samples of an image, snapped to 1/256 of one; NaN where a vertex is not drawn. */
export interface Projected {
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** mm toward the eye. */
  readonly depth: Float64Array;
}

/**
 * Samples are on a grid of 1/256: sums and products of such numbers are exact in double precision at the size of a
 * picture, so that two faces that share an edge leave no gap along it, and the same picture comes out everywhere.
 */
const grid = 256;

/** As many samples per pixel and direction as memory allows: 3 for a picture of half a million pixels, 2 up to 6 million. */
export function samplesFor(width_px: number, height_px: number): number {
  const pixels = width_px * height_px;
  return pixels <= 560_000 ? 3 : pixels <= 6_000_000 ? 2 : 1;
}

export function emptyImage(
  camera: Camera,
  samples = samplesFor(camera.width_px, camera.height_px),
): DepthImage {
  const width = camera.width_px * samples;
  const height = camera.height_px * samples;
  return {
    camera,
    samples,
    width,
    height,
    depth: new Float32Array(width * height).fill(-Infinity),
    face: new Int32Array(width * height).fill(-1),
  };
}

/** Draws a mesh into an empty image: of each sample the nearest face, the first one among equals. */
export function depthImage(mesh: Mesh, camera: Camera, samples?: number): DepthImage {
  const image = emptyImage(camera, samples);
  const { depth, face } = image;
  forEachSpan(mesh, projectAll(mesh, camera, image.samples), image, (f, start, end, z, slope) => {
    for (let k = start, n = 0; k < end; k++, n++) {
      const d = z + n * slope;
      if (d > depth[k]) {
        depth[k] = d;
        face[k] = f;
      }
    }
  });
  return image;
}

export function projectAll({ positions }: Mesh, camera: Camera, samples: number): Projected {
  const count = positions.length / 3;
  const x = new Float64Array(count);
  const y = new Float64Array(count);
  const depth = new Float64Array(count);
  const { right, up, toward, center_mm: c } = camera;
  const s = camera.pixelsPerMm * samples;
  const midX = (camera.width_px * samples) / 2;
  const midY = (camera.height_px * samples) / 2;
  for (let v = 0, k = 0; v < count; v++, k += 3) {
    const px = positions[k] - c[0];
    const py = positions[k + 1] - c[1];
    const pz = positions[k + 2] - c[2];
    if (!drawable(px, py, pz)) {
      x[v] = NaN;
      continue;
    }
    x[v] = Math.round((midX + s * (right[0] * px + right[1] * py + right[2] * pz)) * grid) / grid;
    y[v] = Math.round((midY - s * (up[0] * px + up[1] * py + up[2] * pz)) * grid) / grid;
    depth[v] = toward[0] * px + toward[1] * py + toward[2] * pz;
  }
  return { x, y, depth };
}

/**
 * Walks the samples that each face covers, row by row.
 *
 * `visit` gets the face, the first sample and the one after the last, the depth at the first, and what it grows by from
 * one to the next. Faces that are seen edge-on cover nothing. Samples on an edge belong to both faces.
 */
export function forEachSpan(
  mesh: Mesh,
  { x, y, depth }: Projected,
  { width, height }: Pick<DepthImage, 'width' | 'height'>,
  visit: (face: number, start: number, end: number, depth: number, slope: number, facing: number) => void,
): void {
  const { triangles } = mesh;
  const faces = triangles.length / 3;
  for (let f = 0, k = 0; f < faces; f++, k += 3) {
    const a = triangles[k];
    const b = triangles[k + 1];
    const c = triangles[k + 2];
    const ax = x[a];
    const bx = x[b];
    const cx = x[c];
    const ay = y[a];
    const by = y[b];
    const cy = y[c];
    const top = ay < by ? (ay < cy ? ay : cy) : by < cy ? by : cy;
    const bottom = ay > by ? (ay > cy ? ay : cy) : by > cy ? by : cy;
    const left = ax < bx ? (ax < cx ? ax : cx) : bx < cx ? bx : cx;
    const rightmost = ax > bx ? (ax > cx ? ax : cx) : bx > cx ? bx : cx;
    let row = Math.ceil(top - 0.5);
    let last = Math.floor(bottom - 0.5);
    if (row < 0) row = 0;
    if (last >= height) last = height - 1;
    // Also false for what is not a number.
    if (!(row <= last && rightmost >= 0.5 && left <= width - 0.5)) continue;
    if (Math.ceil(left - 0.5) > Math.floor(rightmost - 0.5)) continue;
    // Twice the area; positive when clockwise on the screen, which is counter-clockwise with y upward reversed.
    const area = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
    if (!(area !== 0)) continue;
    const facing = area < 0 ? 1 : -1;
    const [da, db, dc] = [depth[a], depth[b], depth[c]];
    const alongX = ((db - da) * (cy - ay) - (dc - da) * (by - ay)) / area;
    const alongY = ((dc - da) * (bx - ax) - (db - da) * (cx - ax)) / area;
    const nearest = da > db ? (da > dc ? da : dc) : db > dc ? db : dc;
    const farthest = da < db ? (da < dc ? da : dc) : db < dc ? db : dc;
    for (; row <= last; row++) {
      const py = row + 0.5;
      let low = left;
      let high = rightmost;
      // Each edge bounds the row from one side.
      if (ay !== by) {
        const cut = ax + ((bx - ax) * (py - ay)) / (by - ay);
        if (by > ay === facing > 0) {
          if (cut > low) low = cut;
        } else if (cut < high) high = cut;
      }
      if (by !== cy) {
        const cut = bx + ((cx - bx) * (py - by)) / (cy - by);
        if (cy > by === facing > 0) {
          if (cut > low) low = cut;
        } else if (cut < high) high = cut;
      }
      if (cy !== ay) {
        const cut = cx + ((ax - cx) * (py - cy)) / (ay - cy);
        if (ay > cy === facing > 0) {
          if (cut > low) low = cut;
        } else if (cut < high) high = cut;
      }
      let first = Math.ceil(low - 0.5);
      let end = Math.floor(high - 0.5) + 1;
      if (first < 0) first = 0;
      if (end > width) end = width;
      if (first >= end) continue;
      let z = da + alongX * (first + 0.5 - ax) + alongY * (py - ay);
      let slope = alongX;
      if (end - first === 1) {
        // Slivers: rounding may not lead out of the face.
        if (z > nearest) z = nearest;
        if (z < farthest) z = farthest;
        slope = 0;
      }
      visit(f, row * width + first, row * width + end, z, slope, facing);
    }
  }
}
