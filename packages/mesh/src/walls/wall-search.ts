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
  /** Nodes and faces that lines through the material have met so far. */
  visits(): number;
}

/** Faces that a line may graze on its way. */
const grazes = 16;

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
  let visits = 0;
  const inMaterial = (a: Vec3, b: Vec3, length: number): boolean => {
    // From just inside one surface to just before the other.
    const x = (b[0] - a[0]) / length;
    const y = (b[1] - a[1]) / length;
    const z = (b[2] - a[2]) / length;
    const skin = 1e-5 * length;
    const { normals } = surface;
    let from = skin;
    for (let pass = 0; pass < grazes; pass++) {
      raycast(tree, a[0] + from * x, a[1] + from * y, a[2] + from * z, x, y, z, hit, length - skin - from);
      visits += hit.visits;
      if (hit.face < 0) return true;
      const n = 3 * hit.face;
      // At the rim of a wall the line runs within the face that ends it; rounding alone makes them meet.
      if (Math.abs(normals[n] * x + normals[n + 1] * y + normals[n + 2] * z) > angles.sinFacing) return false;
      from += hit.t + skin;
      if (from >= length - skin) return true;
    }
    return false;
  };
  return {
    surface,
    tree,
    places,
    angles,
    visits: () => visits,
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
