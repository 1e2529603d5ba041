import type { Bounds, Mesh, Vec3 } from '@kinprint/mesh';
import { cavityOwners } from '../body.ts';
import { measureShells } from '../shell-measure.ts';
import { findShells } from '../shells.ts';
import type { MaterialRegion } from './types.ts';

export interface Regions {
  readonly regions: readonly MaterialRegion[];
  readonly slivers_mm3: number;
}

/**
 * Splits the result of a difference into connected regions, cavities kept with the piece around them. What is thinner
 * than `thinnest_mm` (volume over half the area) is summed up as slivers instead.
 */
export function regionsOf(mesh: Mesh, kind: MaterialRegion['kind'], thinnest_mm: number): Regions {
  const shells = findShells(mesh);
  const measures = measureShells(mesh, shells);
  const owners = cavityOwners(mesh, shells, measures);
  const members = new Map<number, number[]>();
  owners.forEach((owner, s) => {
    const list = members.get(owner);
    if (list === undefined) members.set(owner, [s]);
    else list.push(s);
  });
  let slivers = 0;
  const found = new Map<number, Omit<MaterialRegion, 'mesh'>>();
  for (const [owner, list] of members) {
    const sum = (of: (s: number) => number): number => list.reduce((total, s) => total + of(s), 0);
    const volume = sum(s => measures[s].volume_mm3);
    const area = sum(s => measures[s].area_mm2);
    if (volume <= 0 || (2 * volume) / area < thinnest_mm) {
      slivers += Math.abs(volume);
      continue;
    }
    const moment = (k: 0 | 1 | 2): number => sum(s => measures[s].moment[k]) / volume;
    const centroid: Vec3 = [moment(0), moment(1), moment(2)];
    const bounds: Bounds = measures[owner].bounds;
    found.set(owner, { kind, volume_mm3: volume, bounds_mm: bounds, centroid_mm: centroid });
  }
  const regionOf = shells.shellOf.map(s => owners[s]);
  const regions = [...found].map(([owner, region]) => ({ ...region, mesh: extract(mesh, regionOf, owner) }));
  return { regions, slivers_mm3: slivers };
}

function extract({ positions, triangles }: Mesh, regionOf: Uint32Array, region: number): Mesh {
  const renumbered = new Map<number, number>();
  const corners: number[] = [];
  const faces: number[] = [];
  for (let f = 0; f < regionOf.length; f++) {
    if (regionOf[f] !== region) continue;
    for (let i = 3 * f; i < 3 * f + 3; i++) {
      const v = triangles[i];
      let to = renumbered.get(v);
      if (to === undefined) {
        to = renumbered.size;
        renumbered.set(v, to);
        corners.push(positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]);
      }
      faces.push(to);
    }
  }
  return { positions: Float64Array.from(corners), triangles: Uint32Array.from(faces) };
}

/** Largest first; ties by place, so that the order is the same every time. */
export function byVolume(p: MaterialRegion, q: MaterialRegion): number {
  return (
    q.volume_mm3 - p.volume_mm3 ||
    p.centroid_mm[0] - q.centroid_mm[0] ||
    p.centroid_mm[1] - q.centroid_mm[1] ||
    p.centroid_mm[2] - q.centroid_mm[2]
  );
}
