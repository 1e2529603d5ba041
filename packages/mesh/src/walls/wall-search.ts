import { meshDefaults } from '../defaults.ts';
import { raycast, rayHit } from '../tree/raycast.ts';
import type { TriangleTree } from '../tree/tree.ts';
import type { Vec3 } from '../types.ts';
import { facesAlong, type FacingAngles, type Surface } from './facing.ts';
import type { ThinPlaces } from './thin-places.ts';

/** What both ways of looking for thin places share. */
export interface WallSearch {
  readonly surface: Surface;
  readonly tree: TriangleTree;
  readonly places: ThinPlaces;
  readonly angles: FacingAngles;
  /** Takes points a of face f and b of face g when they face each other through material. */
  offer(f: number, a: Vec3, g: number, b: Vec3): void;
}

export function wallSearch(surface: Surface, tree: TriangleTree, places: ThinPlaces): WallSearch {
  const { facing_deg, facingAtEdge_deg, sharp_deg } = meshDefaults.walls;
  const rad = Math.PI / 180;
  const angles: FacingAngles = {
    cosFacing: Math.cos(facing_deg * rad),
    sinFacing: Math.sin(facing_deg * rad),
    cosFacingAtEdge: Math.cos(facingAtEdge_deg * rad),
    cosSharp: Math.cos(sharp_deg * rad),
  };
  const hit = rayHit();
  const inMaterial = (a: Vec3, b: Vec3, length: number): boolean => {
    // From just inside one surface to just before the other.
    const x = (b[0] - a[0]) / length;
    const y = (b[1] - a[1]) / length;
    const z = (b[2] - a[2]) / length;
    const skin = 1e-5 * length;
    raycast(tree, a[0] + skin * x, a[1] + skin * y, a[2] + skin * z, x, y, z, hit, length - 2 * skin);
    return hit.face < 0;
  };
  return {
    surface,
    tree,
    places,
    angles,
    offer(f, a, g, b) {
      const length = Math.hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2]);
      if (!(length > 0)) return;
      if (!places.wanted(length, (a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2)) return;
      const x = (b[0] - a[0]) / length;
      const y = (b[1] - a[1]) / length;
      const z = (b[2] - a[2]) / length;
      if (!facesAlong(surface, f, a, -x, -y, -z, angles) || !facesAlong(surface, g, b, x, y, z, angles))
        return;
      if (!inMaterial(a, b, length)) return;
      places.add({ thickness_mm: length, from_mm: a, to_mm: b });
    },
  };
}
