import { crossingPairs, type Mesh } from '@kinprint/mesh';
import { surfaceFigures } from './surface-figures.ts';
import type { Remix } from './types.ts';

/**
 * Whether glued faces are what both remixes make of the base, told without a boolean: the surface is closed, no faces
 * cross, and handles and volume obey inclusion and exclusion (A + B − base), as they do for changes that do not touch.
 *
 * That `false` proves nothing: a remix may be flawed itself.
 */
export function glueHolds(
  meshes: Readonly<Record<'base' | Remix, Mesh>>,
  glued: Mesh,
  allowed_mm3: number,
): boolean {
  const [base, a, b, both] = [meshes.base, meshes.a, meshes.b, glued].map(surfaceFigures);
  return (
    both.closed &&
    both.characteristic === a.characteristic + b.characteristic - base.characteristic &&
    Math.abs(both.volume_mm3 - a.volume_mm3 - b.volume_mm3 + base.volume_mm3) <= allowed_mm3 &&
    crossingPairs(glued).pairs.length === 0
  );
}
