import type { VariantDocument } from '@kinprint/manifest';
import { movedPoint, rigidMotion, type Bounds, type Vec3 } from '@kinprint/mesh';
import type { PartLook } from '../check/facts.ts';
import type { PlacedInstance, UnplacedPart } from './types.ts';

/** An instance with its part's index in the manifest. */
export interface Instance extends PlacedInstance {
  readonly index: number;
}

/**
 * The placed copies of a variant's parts. A placement of something that is no part of it places nothing.
 *
 * @param looks what was measured of its parts, by their index
 */
export function instancesOf(
  { parts, assembly = [] }: VariantDocument,
  looks: readonly (PartLook | null | undefined)[],
): { readonly placed: readonly Instance[]; readonly unplaced: readonly UnplacedPart[] } {
  const copies = new Map<string, number>();
  const placed = assembly.flatMap(({ part, translate_mm = [0, 0, 0], rotate }, placement): Instance[] => {
    const index = parts.findIndex(({ id }) => id === part);
    if (index < 0) return [];
    const copy = (copies.get(part) ?? 0) + 1;
    copies.set(part, copy);
    const motion = rigidMotion(rotate ?? null, translate_mm);
    const look = looks[index];
    const box = look?.state === 'measured' ? look.facts.bounds_mm : null;
    const name = copy === 1 ? part : `${part}#${copy}`;
    return [
      { name, part, placement, motion, bounds_mm: box === null ? null : turnedBox(box, motion), index },
    ];
  });
  const unplaced = parts.flatMap(({ id }, k): UnplacedPart[] => {
    if (!copies.has(id)) return [{ part: id, why: 'no-placement' }];
    return looks[k]?.state === 'measured' ? [] : [{ part: id, why: 'unreadable' }];
  });
  return { placed, unplaced };
}

function turnedBox({ min, max }: Bounds, motion: PlacedInstance['motion']): Bounds {
  const corners = [0, 1, 2, 3, 4, 5, 6, 7].map(k =>
    movedPoint(motion, [(k & 1 ? max : min)[0], (k & 2 ? max : min)[1], (k & 4 ? max : min)[2]]),
  );
  const along = (pick: (...values: number[]) => number): Vec3 => [
    pick(...corners.map(c => c[0])),
    pick(...corners.map(c => c[1])),
    pick(...corners.map(c => c[2])),
  ];
  return { min: along(Math.min), max: along(Math.max) };
}
