import { footprint, turnToFit, type Mesh, type Vec3 } from '@kinprint/mesh';
import type { Stand } from './task.ts';

/** Rounding of 32-bit coordinates, as a share of the largest extent (IEEE 754: 2⁻²⁴ each, two of them, and a turn). */
const rounding = 1e-6;

/**
 * How a mesh stands with each direction downward: by how much it must be turned to lie within each volume.
 *
 * @param volumes_mm width, depth, height
 */
export function standings(mesh: Mesh, downs: readonly Vec3[], volumes_mm: readonly Vec3[]): Stand[] {
  return downs.map(down => {
    const { height_mm, outline } = footprint(mesh, down);
    return {
      turned_deg: volumes_mm.map(([width, depth, height]) => {
        const slack = rounding * Math.max(width, depth, height);
        return height_mm > height + slack ? null : turnToFit(outline, width, depth, slack);
      }),
    };
  });
}
