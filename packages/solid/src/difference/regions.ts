import { subMesh, type Bounds, type Mesh, type Vec3 } from '@kinprint/mesh';
import { cavityOwners } from '../body.ts';
import { measureShells } from '../shell-measure.ts';
import { findShells } from '../shells.ts';
import type { MaterialRegion } from './types.ts';

/** A connected piece of a difference, before films are told from material. */
export interface Connected {
  readonly region: MaterialRegion;
  readonly area_mm2: number;
}

/**
 * Splits the result of a difference into connected regions, cavities kept with the piece around them. What encloses
 * nothing is left out: `empty_mm3` sums it up, without sign.
 */
export function regionsOf(
  mesh: Mesh,
  kind: MaterialRegion['kind'],
): { readonly connected: readonly Connected[]; readonly empty_mm3: number } {
  const shells = findShells(mesh);
  const measures = measureShells(mesh, shells);
  const owners = cavityOwners(mesh, shells, measures);
  const members = new Map<number, number[]>();
  owners.forEach((owner, s) => {
    const list = members.get(owner);
    if (list === undefined) members.set(owner, [s]);
    else list.push(s);
  });
  let empty = 0;
  const found = new Map<number, { readonly region: Omit<MaterialRegion, 'mesh'>; readonly area: number }>();
  for (const [owner, list] of members) {
    const sum = (of: (s: number) => number): number => list.reduce((total, s) => total + of(s), 0);
    const volume = sum(s => measures[s].volume_mm3);
    const area = sum(s => measures[s].area_mm2);
    if (volume <= 0) {
      empty -= volume;
      continue;
    }
    const moment = (k: 0 | 1 | 2): number => sum(s => measures[s].moment[k]) / volume;
    const centroid: Vec3 = [moment(0), moment(1), moment(2)];
    const bounds: Bounds = measures[owner].bounds;
    const region = { kind, volume_mm3: volume, bounds_mm: bounds, centroid_mm: centroid };
    found.set(owner, { region, area });
  }
  const facesOf = new Map([...found.keys()].map((owner): [number, number[]] => [owner, []]));
  shells.shellOf.forEach((s, f) => facesOf.get(owners[s])?.push(f));
  const connected = [...found].map(([owner, { region, area }]) => ({
    region: { ...region, mesh: subMesh(mesh, facesOf.get(owner) ?? []) },
    area_mm2: area,
  }));
  return { connected, empty_mm3: empty };
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
