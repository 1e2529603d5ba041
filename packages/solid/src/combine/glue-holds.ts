import { crossingPairs, subMesh, type Mesh } from '@kinprint/mesh';
import type { Glued } from './glued-remixes.ts';
import { surfaceFigures } from './surface-figures.ts';
import type { Remix } from './types.ts';

/**
 * Whether glued faces are what both remixes make of the base, told without a boolean: the surface is closed, no faces
 * cross, and handles and volume obey inclusion and exclusion (A + B − base), as they do for changes that do not touch.
 * Only exchanged faces are looked at for crossings: any other pair is one of a remix as it is.
 *
 * That `false` proves nothing: a remix may be flawed itself.
 */
export function glueHolds(
  meshes: Readonly<Record<'base' | Remix, Mesh>>,
  glued: Glued,
  allowed_mm3: number,
): boolean {
  const [base, a, b, both] = [meshes.base, meshes.a, meshes.b, glued.mesh].map(surfaceFigures);
  return (
    both.closed &&
    both.characteristic === a.characteristic + b.characteristic - base.characteristic &&
    Math.abs(both.volume_mm3 - a.volume_mm3 - b.volume_mm3 + base.volume_mm3) <= allowed_mm3 &&
    crossingPairs(exchanged(glued)).pairs.length === 0
  );
}

function exchanged({ mesh, exchangedFrom }: Glued): Mesh {
  const count = mesh.triangles.length / 3 - exchangedFrom;
  return subMesh(
    mesh,
    Array.from({ length: count }, (_, k) => exchangedFrom + k),
  );
}
