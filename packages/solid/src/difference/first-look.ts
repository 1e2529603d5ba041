import { area, subMesh, type Mesh } from '@kinprint/mesh';
import { both, isDeep } from './both-surfaces.ts';
import type { BothSurfaces, Corners } from './both-surfaces.ts';
import { nearCorner, pointOf, within } from './deep-surface.ts';

export interface FirstLook {
  /** Whether the region is deeper than the tolerance anywhere. */
  readonly deep: boolean;
  /** Surface of the triangles with a shallow middle. A film has them on both sides; none of them, no film. */
  readonly shallow_mm2: number;
}

/** A look at each triangle of a region as it is: tells at little cost where films may be. */
export function firstLook(region: Mesh, surfaces: BothSurfaces): FirstLook {
  const { positions, triangles } = region;
  const shallow: number[] = [];
  let deep = false;
  for (let i = 0; i < triangles.length; i += 3) {
    const corners: Corners = [
      pointOf(positions, triangles[i]),
      pointOf(positions, triangles[i + 1]),
      pointOf(positions, triangles[i + 2]),
    ];
    if (isDeep(within(corners, 1 / 3, 1 / 3, 1 / 3), surfaces, both)) {
      deep = true;
      continue;
    }
    shallow.push(i / 3);
    deep ||= corners.some(
      (corner, k) => isDeep(corner, surfaces, both) || isDeep(nearCorner(corners, k), surfaces, both),
    );
  }
  return { deep, shallow_mm2: shallow.length === 0 ? 0 : area(subMesh(region, shallow)) };
}
