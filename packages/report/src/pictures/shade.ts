import { cornerNormals, type Surface } from './surface.ts';
import { projectAll, type DepthImage } from './depth-image.ts';
import type { Rgb } from './colors.ts';
import { backOfSurface, clay } from './colors.ts';

/** Pixels of a picture: R, G, B, opacity (0…255) of each, rows from above. */
export interface Pixels {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8ClampedArray;
}

/** What samples are painted with before light falls on them. */
export interface Paint {
  /** Samples of a pixel that show one face and have the same key are of one color; null where all that show one face are. */
  readonly keys: Uint16Array | null;
  /** null for the color of the material. */
  readonly at: (sample: number, pixelX: number, pixelY: number) => Rgb | null;
}

// Directions of light in the frame of the eye (right, up, toward), unit length: 0.6² + 0.64² + 0.48² = 1.
const key = [-0.48, 0.64, 0.6] as const;
const fill = [0.8, 0, 0.6] as const;

/**
 * How light falls on a surface, 0…1: a key light from the upper left behind the eye, a weaker one from the right, and
 * what the sky gives.
 */
export function lightOn(right: number, up: number, toward: number): number {
  const k = key[0] * right + key[1] * up + key[2] * toward;
  const f = fill[0] * right + fill[1] * up + fill[2] * toward;
  const sky = 0.5 + 0.5 * up;
  return 0.2 + 0.5 * (k > 0 ? k : 0) + 0.15 * (f > 0 ? f : 0) + 0.15 * sky;
}

/**
 * The picture of a surface, without lines: each pixel is the mean of its samples. Where all samples of a pixel show one
 * face in one color, its middle stands for all.
 *
 * @param occlusion per pixel 0…1, how much of the sky is hidden there
 * @param paint what samples are painted with; the color of the material where it says null
 */
export function shade(
  surface: Surface,
  image: DepthImage,
  occlusion: Float32Array | null,
  paint: Paint | null,
): Pixels {
  const { camera, samples, width, face } = image;
  const { width_px, height_px } = camera;
  const data = new Uint8ClampedArray(4 * width_px * height_px);
  const lit = lighting(surface, image);
  const { color } = lit;
  const keys = paint === null ? null : paint.keys;
  const all = samples * samples;

  for (let y = 0; y < height_px; y++) {
    for (let x = 0; x < width_px; x++) {
      const ao = occlusion === null ? 0 : occlusion[y * width_px + x];
      const corner = y * samples * width + x * samples;
      const k = 4 * (y * width_px + x);
      const f = face[corner];
      const key = keys === null ? 0 : keys[corner];
      let same = true;
      for (let j = 0, row = corner; j < samples && same; j++, row += width) {
        for (let sample = row; sample < row + samples; sample++) {
          if (face[sample] === f && (keys === null || keys[sample] === key)) continue;
          same = false;
          break;
        }
      }
      if (same) {
        if (f < 0) continue;
        lit.at(
          f,
          (x + 0.5) * samples,
          (y + 0.5) * samples,
          ao,
          paint === null ? null : paint.at(corner, x, y),
        );
        data[k] = Math.round(color[0]);
        data[k + 1] = Math.round(color[1]);
        data[k + 2] = Math.round(color[2]);
        data[k + 3] = 255;
        continue;
      }
      let r = 0;
      let g = 0;
      let b = 0;
      let hits = 0;
      for (let j = 0; j < samples; j++) {
        for (let i = 0; i < samples; i++) {
          const sample = corner + j * width + i;
          const seen = face[sample];
          if (seen < 0) continue;
          lit.at(
            seen,
            x * samples + i + 0.5,
            y * samples + j + 0.5,
            ao,
            paint === null ? null : paint.at(sample, x, y),
          );
          hits++;
          r += color[0];
          g += color[1];
          b += color[2];
        }
      }
      if (hits === 0) continue;
      data[k] = Math.round(r / hits);
      data[k + 1] = Math.round(g / hits);
      data[k + 2] = Math.round(b / hits);
      data[k + 3] = Math.round((255 * hits) / all);
    }
  }
  return { width: width_px, height: height_px, data };
}

interface Lighting {
  /** What `at` found last. */
  readonly color: Float64Array;
  /** The color of a face at a place of the image, in samples. */
  readonly at: (face: number, x: number, y: number, occlusion: number, base: Rgb | null) => void;
}

function lighting(surface: Surface, image: DepthImage): Lighting {
  return surface.fans === null ? evenLighting(surface, image) : smoothLighting(surface, image);
}

/** Each face in its own tone. */
function evenLighting({ normals: n }: Surface, { camera: { right, up, toward } }: DepthImage): Lighting {
  const color = new Float64Array(3);
  /** Of each face that was asked for: the light on it, negative where its back is seen; 0 for none yet. */
  const light = new Float32Array(n.length / 3);
  return {
    color,
    at(f, _x, _y, ao, base) {
      let lit = light[f];
      if (lit === 0) {
        const k = 3 * f;
        const facing = n[k] * toward[0] + n[k + 1] * toward[1] + n[k + 2] * toward[2];
        const turn = facing < 0 ? -1 : 1;
        lit =
          turn *
          lightOn(
            turn * (n[k] * right[0] + n[k + 1] * right[1] + n[k + 2] * right[2]),
            turn * (n[k] * up[0] + n[k + 1] * up[1] + n[k + 2] * up[2]),
            turn * facing,
          );
        light[f] = lit;
      }
      tone(color, base ?? (lit < 0 ? backOfSurface : clay), lit < 0 ? -lit : lit, ao);
    },
  };
}

/** The color of a paint under light and shadow. */
function tone(color: Float64Array, paint: Rgb, light: number, occlusion: number): void {
  const strength = (0.49 + 0.64 * light) * (1 - 0.5 * occlusion);
  // Shadows are a little cooler than light, as under the sky.
  const cool = strength < 1 ? 1 - strength : 0;
  color[0] = Math.min(255, paint[0] * (strength - 0.04 * cool));
  color[1] = Math.min(255, paint[1] * (strength - 0.01 * cool));
  color[2] = Math.min(255, paint[2] * (strength + 0.05 * cool));
}

function smoothLighting(surface: Surface, image: DepthImage): Lighting {
  const { right, up, toward } = image.camera;
  const { triangles: t } = surface.mesh;
  const { x: sx, y: sy } = projectAll(surface.mesh, image.camera, image.samples);
  const color = new Float64Array(3);
  /** Normals of the corners in the frame of the eye. */
  const eye = new Float64Array(9);
  let known = -1;
  let turn = 1;
  // Shares of the second and third corner: linear over the picture, as the camera is orthographic.
  const plane = new Float64Array(6);

  function learn(f: number): void {
    known = f;
    const k = 3 * f;
    const n = surface.normals;
    turn = n[k] * toward[0] + n[k + 1] * toward[1] + n[k + 2] * toward[2] < 0 ? -1 : 1;
    const corners = cornerNormals(surface, f);
    for (let c = 0; c < 9; c += 3) {
      const [x, y, z] = [corners[c], corners[c + 1], corners[c + 2]];
      eye[c] = turn * (x * right[0] + y * right[1] + z * right[2]);
      eye[c + 1] = turn * (x * up[0] + y * up[1] + z * up[2]);
      eye[c + 2] = turn * (x * toward[0] + y * toward[1] + z * toward[2]);
    }
    const [a, b, c] = [t[k], t[k + 1], t[k + 2]];
    const [ux, uy, vx, vy] = [sx[b] - sx[a], sy[b] - sy[a], sx[c] - sx[a], sy[c] - sy[a]];
    const area = ux * vy - uy * vx;
    const per = area !== 0 ? 1 / area : 0;
    plane[0] = vy * per;
    plane[1] = -vx * per;
    plane[2] = -(plane[0] * sx[a] + plane[1] * sy[a]);
    plane[3] = -uy * per;
    plane[4] = ux * per;
    plane[5] = -(plane[3] * sx[a] + plane[4] * sy[a]);
  }

  return {
    color,
    at(f, x, y, ao, base) {
      if (f !== known) learn(f);
      let v = plane[0] * x + plane[1] * y + plane[2];
      let w = plane[3] * x + plane[4] * y + plane[5];
      v = v < 0 ? 0 : v > 1 ? 1 : v;
      w = w < 0 ? 0 : w > 1 - v ? 1 - v : w;
      const u = 1 - v - w;
      let nx = u * eye[0] + v * eye[3] + w * eye[6];
      let ny = u * eye[1] + v * eye[4] + w * eye[7];
      let nz = u * eye[2] + v * eye[5] + w * eye[8];
      const length = Math.sqrt(nx * nx + ny * ny + nz * nz);
      if (length > 0) {
        nx /= length;
        ny /= length;
        nz /= length;
      }
      tone(color, base ?? (turn < 0 ? backOfSurface : clay), lightOn(nx, ny, nz), ao);
    },
  };
}
