import { subMesh, type Bounds, type Mesh, type Vec3 } from '@kinprint/mesh';
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
  const facesOf = new Map([...found.keys()].map((owner): [number, number[]] => [owner, []]));
  shells.shellOf.forEach((s, f) => facesOf.get(owners[s])?.push(f));
  const regions = [...found].map(([owner, region]) => ({
    ...region,
    mesh: subMesh(mesh, facesOf.get(owner) ?? []),
  }));
  return { regions, slivers_mm3: slivers };
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
