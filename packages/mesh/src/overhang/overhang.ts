import { meshDefaults } from '../defaults.ts';
import { InputError } from '../error.ts';
import type { Mesh, Vec3 } from '../types.ts';

export interface OverhangOptions {
  /** Build direction, any length. */
  readonly up: Vec3;
  /** A downward face overhangs when its plane is nearer to the horizontal than this, degrees. */
  readonly limit_deg?: number;
  /** Faces that lie within this of the lowest point stand on the bed, mm. */
  readonly bedTolerance_mm?: number;
}

export interface Overhang {
  /** Area that needs support, mm²; null for a mesh without area. */
  readonly overhang_area_mm2: number | null;
  /** Area that stands on the bed, mm²; null likewise. */
  readonly bed_contact_mm2: number | null;
}

/**
 * Area that overhangs and area that stands on the bed, for a build direction `up` with the part resting on its lowest
 * point.
 *
 * A face overhangs when n·u < −cos(limit), n its unit outward normal and u the unit build direction: for the usual
 * 45° that is a lean of more than 45° from the vertical (habit of the trade). A face at exactly the limit does not;
 * "exactly" is within what rounding of its corners can tilt it. Faces that lie on the bed are exempt. Bridges and
 * faces that the part itself shields are counted: only the slope is looked at. Needs faces that look outward.
 *
 * @throws InputError `up-direction` when `up` has no direction
 */
export function overhang(mesh: Mesh, options: OverhangOptions): Overhang {
  const { positions: p, triangles: t } = mesh;
  const { limit_deg, bedTolerance_mm } = { ...meshDefaults.overhang, ...options };
  const length = Math.hypot(...options.up);
  if (!(length > 0) || !Number.isFinite(length)) {
    throw new InputError(
      'up-direction',
      'the build direction has no length',
      'Give a direction such as 0 0 1.',
    );
  }
  const [ux, uy, uz] = options.up.map(c => c / length);
  const steep = -Math.cos((limit_deg * Math.PI) / 180);
  const { lowest, highest, largest } = reach(mesh, ux, uy, uz);
  const bed = lowest + Math.min(bedTolerance_mm, 1e-3 * (highest - lowest)) + 2 ** -22 * largest;
  // How far rounding to 32 bits moves a coordinate (double precision adds nothing that matters).
  const rounding = p instanceof Float32Array ? 2 ** -24 * largest : 2 ** -50 * largest;
  let area = 0;
  let contact = 0;
  let total = 0;
  for (let i = 0; i < t.length; i += 3) {
    const a = 3 * t[i];
    const b = 3 * t[i + 1];
    const c = 3 * t[i + 2];
    const ex = p[b] - p[a];
    const ey = p[b + 1] - p[a + 1];
    const ez = p[b + 2] - p[a + 2];
    const fx = p[c] - p[a];
    const fy = p[c + 1] - p[a + 1];
    const fz = p[c + 2] - p[a + 2];
    const nx = ey * fz - ez * fy;
    const ny = ez * fx - ex * fz;
    const nz = ex * fy - ey * fx;
    const doubled = Math.sqrt(nx * nx + ny * ny + nz * nz);
    if (!(doubled > 0) || doubled === Infinity) continue;
    total += doubled / 2;
    const down = (nx * ux + ny * uy + nz * uz) / doubled;
    if (down >= 0) continue;
    const heightA = p[a] * ux + p[a + 1] * uy + p[a + 2] * uz;
    const onBed =
      heightA <= bed &&
      heightA + ex * ux + ey * uy + ez * uz <= bed &&
      heightA + fx * ux + fy * uy + fz * uz <= bed;
    if (onBed) {
      contact += doubled / 2;
      continue;
    }
    const gx = fx - ex;
    const gy = fy - ey;
    const gz = fz - ez;
    const longest = Math.sqrt(
      Math.max(ex * ex + ey * ey + ez * ez, fx * fx + fy * fy + fz * fz, gx * gx + gy * gy + gz * gz),
    );
    const tilt = Math.min(0.05, 1e-9 + (4 * rounding * longest) / doubled);
    if (down < steep - tilt) area += doubled / 2;
  }
  return total > 0
    ? { overhang_area_mm2: area, bed_contact_mm2: contact }
    : { overhang_area_mm2: null, bed_contact_mm2: null };
}

/** Lowest and highest corner along the direction, and the largest coordinate, over the corners of finite faces. */
function reach(
  { positions: p, triangles: t }: Mesh,
  ux: number,
  uy: number,
  uz: number,
): { lowest: number; highest: number; largest: number } {
  let lowest = Infinity;
  let highest = -Infinity;
  let largest = 0;
  for (let i = 0; i < t.length; i++) {
    const at = 3 * t[i];
    const height = p[at] * ux + p[at + 1] * uy + p[at + 2] * uz;
    if (!Number.isFinite(height)) continue;
    if (height < lowest) lowest = height;
    if (height > highest) highest = height;
    largest = Math.max(largest, Math.abs(p[at]), Math.abs(p[at + 1]), Math.abs(p[at + 2]));
  }
  return { lowest, highest, largest };
}
