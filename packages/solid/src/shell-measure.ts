import { bounds, type Bounds, type Mesh, type Vec3 } from '@kinprint/mesh';
import type { Shells } from './shells.ts';

/** What one shell of a closed surface encloses. */
export interface ShellMeasure {
  /** Signed: negative for a cavity or a shell turned inside out. */
  readonly volume_mm3: number;
  readonly area_mm2: number;
  readonly bounds: Bounds;
  /** Volume times centroid, about the origin of the mesh. */
  readonly moment: Vec3;
  /** One face of the shell. */
  readonly face: number;
}

const stride = 11;

/**
 * Volume, area, bounds and first moment of each shell. Sums run about the middle of the mesh in double precision;
 * divergence theorem over tetrahedra.
 */
export function measureShells(mesh: Mesh, shells: Shells): readonly ShellMeasure[] {
  const { positions, triangles } = mesh;
  const sums = new Float64Array(shells.count * stride);
  for (let s = 0; s < shells.count; s++) sums.fill(Infinity, s * stride + 5, s * stride + 8);
  for (let s = 0; s < shells.count; s++) sums.fill(-Infinity, s * stride + 8, s * stride + 11);
  const firstFace = new Int32Array(shells.count).fill(-1);
  const [ox, oy, oz] = middleOf(mesh);
  for (let i = 0, f = 0; i < triangles.length; i += 3, f++) {
    const shell = shells.shellOf[f];
    const s = shell * stride;
    if (firstFace[shell] < 0) firstFace[shell] = f;
    const a = 3 * triangles[i];
    const b = 3 * triangles[i + 1];
    const c = 3 * triangles[i + 2];
    const ax = positions[a] - ox;
    const ay = positions[a + 1] - oy;
    const az = positions[a + 2] - oz;
    const bx = positions[b] - ox;
    const by = positions[b + 1] - oy;
    const bz = positions[b + 2] - oz;
    const cx = positions[c] - ox;
    const cy = positions[c + 1] - oy;
    const cz = positions[c + 2] - oz;
    const nx = (by - ay) * (cz - az) - (bz - az) * (cy - ay);
    const ny = (bz - az) * (cx - ax) - (bx - ax) * (cz - az);
    const nz = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
    const det = ax * nx + ay * ny + az * nz;
    sums[s] = sums[s] + det / 6;
    sums[s + 1] = sums[s + 1] + Math.sqrt(nx * nx + ny * ny + nz * nz) / 2;
    sums[s + 2] = sums[s + 2] + (det * (ax + bx + cx)) / 24;
    sums[s + 3] = sums[s + 3] + (det * (ay + by + cy)) / 24;
    sums[s + 4] = sums[s + 4] + (det * (az + bz + cz)) / 24;
    sums[s + 5] = Math.min(sums[s + 5], ax, bx, cx);
    sums[s + 6] = Math.min(sums[s + 6], ay, by, cy);
    sums[s + 7] = Math.min(sums[s + 7], az, bz, cz);
    sums[s + 8] = Math.max(sums[s + 8], ax, bx, cx);
    sums[s + 9] = Math.max(sums[s + 9], ay, by, cy);
    sums[s + 10] = Math.max(sums[s + 10], az, bz, cz);
  }
  return Array.from({ length: shells.count }, (_, shell) => {
    const at = (k: number): number => sums[shell * stride + k];
    const volume = at(0);
    return {
      volume_mm3: volume,
      area_mm2: at(1),
      bounds: {
        min: [at(5) + ox, at(6) + oy, at(7) + oz],
        max: [at(8) + ox, at(9) + oy, at(10) + oz],
      },
      moment: [at(2) + volume * ox, at(3) + volume * oy, at(4) + volume * oz],
      face: firstFace[shell],
    };
  });
}

function middleOf(mesh: Mesh): Vec3 {
  const box = bounds(mesh);
  if (box === null) return [0, 0, 0];
  const { min, max } = box;
  return [(min[0] + max[0]) / 2, (min[1] + max[1]) / 2, (min[2] + max[2]) / 2];
}
