import type { Vec3 } from '@kinprint/mesh';

/**
 * Directions along which the extent of changed faces is known: the three axes first, then slanted ones, opposite ones
 * only once. Whole numbers up to two and not of unit length, so that nothing depends on how sines are computed.
 */
export const directions: readonly Vec3[] = [[1, 0, 0], [0, 1, 0], [0, 0, 1], ...slanted()];

/** Lengths of the directions. */
export const lengths: readonly number[] = directions.map(([x, y, z]) => Math.hypot(x, y, z));

function slanted(): readonly Vec3[] {
  const found: Vec3[] = [];
  const most = 2;
  for (let x = 0; x <= most; x++) {
    for (let y = -most; y <= most; y++) {
      for (let z = -most; z <= most; z++) {
        const opposite = x === 0 && (y < 0 || (y === 0 && z < 0));
        const axis = [x, y, z].filter(k => k !== 0).length < 2;
        const shorter = [x, y, z].every(k => k % 2 === 0);
        if (!opposite && !axis && !shorter) found.push([x, y, z]);
      }
    }
  }
  return found;
}
