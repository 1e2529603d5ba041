import type { Mesh, Vec3 } from '@kinprint/mesh';

/** A direction to look from: `name` in words, `toward` from the part to the eye (any length). */
export interface ViewDirection {
  readonly name: string;
  readonly toward: Vec3;
}

/** An orthographic camera. Rows are unit vectors; `toward` points to the eye. */
export interface Camera {
  readonly direction: ViewDirection;
  readonly right: Vec3;
  readonly up: Vec3;
  readonly toward: Vec3;
  /** The point that is drawn in the middle of the frame. */
  readonly center_mm: Vec3;
  readonly pixelsPerMm: number;
  /** Size of the frame. */
  readonly width_px: number;
  readonly height_px: number;
}

/** Axes of a view. Looking along z, y is up; else z is. */
export function axesOf({ toward: [x, y, z] }: ViewDirection): Pick<Camera, 'right' | 'up' | 'toward'> {
  const toward = unit([x, y, z]);
  const level = toward[0] * toward[0] + toward[1] * toward[1];
  const right: Vec3 = level < 1e-12 ? [1, 0, 0] : unit([-toward[1], toward[0], 0]);
  return { right, up: cross(toward, right), toward };
}

export interface Frame {
  readonly width_px: number;
  readonly height_px: number;
  /** Kept free on every side. */
  readonly margin_px: number;
}

/**
 * A camera that shows all of the meshes, as large as the frame allows.
 *
 * @returns the camera; where there is nothing finite to show, one of a frame 1 mm wide about the origin
 */
export function cameraFor(meshes: readonly Mesh[], direction: ViewDirection, frame: Frame): Camera {
  const axes = axesOf(direction);
  return cameraOver(extentAlong(meshes, axes), direction, frame);
}

/** What meshes take up along the axes of a view. */
export interface Extent {
  readonly min: Vec3;
  readonly max: Vec3;
}

/** A camera over a box along its own axes. */
export function cameraOver({ min, max }: Extent, direction: ViewDirection, frame: Frame): Camera {
  const axes = axesOf(direction);
  const [width, height] = [max[0] - min[0], max[1] - min[1]];
  const room = {
    width: Math.max(1, frame.width_px - 2 * frame.margin_px),
    height: Math.max(1, frame.height_px - 2 * frame.margin_px),
  };
  const fit = Math.min(room.width / width, room.height / height);
  const middle: Vec3 = [0, 1, 2].map(k => min[k] / 2 + max[k] / 2) as unknown as Vec3;
  return {
    direction,
    ...axes,
    center_mm: fromAxes(axes, middle),
    pixelsPerMm: Number.isFinite(fit) && fit > 0 ? fit : Math.min(room.width, room.height),
    width_px: frame.width_px,
    height_px: frame.height_px,
  };
}

/** The box along the axes of a view around all vertices that faces use; vertices that are not finite count nowhere. */
export function extentAlong(
  meshes: readonly Mesh[],
  { right, up, toward }: Pick<Camera, 'right' | 'up' | 'toward'>,
): Extent {
  const min = [Infinity, Infinity, Infinity];
  const max = [-Infinity, -Infinity, -Infinity];
  for (const { positions, triangles } of meshes) {
    const used = new Uint8Array(positions.length / 3);
    for (let k = 0; k < triangles.length; k++) used[triangles[k]] = 1;
    for (let v = 0, k = 0; v < used.length; v++, k += 3) {
      if (used[v] === 0) continue;
      const [x, y, z] = [positions[k], positions[k + 1], positions[k + 2]];
      if (!drawable(x, y, z)) continue;
      const u = right[0] * x + right[1] * y + right[2] * z;
      const w = up[0] * x + up[1] * y + up[2] * z;
      const d = toward[0] * x + toward[1] * y + toward[2] * z;
      if (u < min[0]) min[0] = u;
      if (u > max[0]) max[0] = u;
      if (w < min[1]) min[1] = w;
      if (w > max[1]) max[1] = w;
      if (d < min[2]) min[2] = d;
      if (d > max[2]) max[2] = d;
    }
  }
  if (min[0] > max[0]) return { min: [-0.5, -0.5, -0.5], max: [0.5, 0.5, 0.5] };
  return { min: min as unknown as Vec3, max: max as unknown as Vec3 };
}

/** Coordinates that are drawn at all: beyond single precision nothing can be told apart. */
export function drawable(x: number, y: number, z: number): boolean {
  const limit = 1e30;
  return x > -limit && x < limit && y > -limit && y < limit && z > -limit && z < limit;
}

/** Where a point is drawn: x to the right, y downward, in pixels; `depth` in mm, larger is nearer to the eye. */
export function project(camera: Camera, p: Vec3): { x: number; y: number; depth: number } {
  const { right, up, toward, center_mm: c, pixelsPerMm: s } = camera;
  const [x, y, z] = [p[0] - c[0], p[1] - c[1], p[2] - c[2]];
  return {
    x: camera.width_px / 2 + s * (right[0] * x + right[1] * y + right[2] * z),
    y: camera.height_px / 2 - s * (up[0] * x + up[1] * y + up[2] * z),
    depth: toward[0] * x + toward[1] * y + toward[2] * z,
  };
}

/** The point that is drawn at a place of the frame, at a depth. */
export function unproject(camera: Camera, x: number, y: number, depth: number): Vec3 {
  const { center_mm: c, pixelsPerMm: s } = camera;
  const p = fromAxes(camera, [(x - camera.width_px / 2) / s, (camera.height_px / 2 - y) / s, depth]);
  return [c[0] + p[0], c[1] + p[1], c[2] + p[2]];
}

function fromAxes({ right, up, toward }: Pick<Camera, 'right' | 'up' | 'toward'>, [u, v, w]: Vec3): Vec3 {
  return [0, 1, 2].map(k => right[k] * u + up[k] * v + toward[k] * w) as unknown as Vec3;
}

// Math.hypot may differ between machines in the last bit; a square root may not.
function unit([x, y, z]: Vec3): Vec3 {
  const length = Math.sqrt(x * x + y * y + z * z);
  return length > 0 ? [x / length, y / length, z / length] : [0, 0, 1];
}

function cross(a: Vec3, b: Vec3): Vec3 {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}
