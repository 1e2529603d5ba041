import { area, bounds, InputError, transformMesh, type Mesh } from '@kinprint/mesh';
import { align } from '../align/align.ts';
import type { Alignment } from '../comparison.ts';
import { compareDefaults } from '../defaults.ts';
import { sharedFaces } from '../deviation/shared-faces.ts';
import { placed } from '../fixed-alignments.ts';
import { sameTriangles } from '../same-triangles.ts';

/** A remix in the frame of its base. */
export interface PlacedRemix {
  readonly mesh: Mesh;
  readonly alignment: Alignment;
  /** Whether it is the base's surface within the tolerance all over. */
  readonly unchanged: boolean;
}

/**
 * Moves a remix to where its base stands.
 *
 * @param asPlaced leave it where it stands
 * @throws InputError `combine-unit`, `combine-rescaled`, `combine-mirrored`, `combine-unrelated`: without a motion that
 *   takes it to the base, its changes cannot be told from the rest
 */
export function placeRemix(base: Mesh, remix: Mesh, tolerance_mm: number, asPlaced: boolean): PlacedRemix {
  if (sameTriangles(base, remix)) return { mesh: remix, alignment: placed(1), unchanged: true };
  if (!asPlaced) refuseOtherUnit(diagonal(remix) / diagonal(base));
  const standing = asPlaced ? null : sharedWhereItStands(base, remix);
  const { alignment, exact } =
    standing === null
      ? align(remix, base, { tolerance_mm, asPlaced })
      : { alignment: placed(standing), exact: false };
  switch (alignment.kind) {
    case 'identity':
      return { mesh: remix, alignment, unchanged: exact };
    case 'rigid':
      return { mesh: transformMesh(remix, alignment.matrix), alignment, unchanged: exact };
    case 'mirrored':
      throw new InputError(
        'combine-mirrored',
        'It is a mirror image of the base.',
        'Combine remixes of one hand, and mirror the result: kinprint derive --relation mirror.',
      );
    case 'uniform-scale':
    case 'axis-scale': {
      refuseOtherUnit(1 / alignment.scale[0]);
      const factors = alignment.scale.map(s => Number((1 / s).toPrecision(4)));
      throw new InputError(
        'combine-rescaled',
        `It is the base in another size (${new Set(factors).size === 1 ? factors[0] : factors.join(', ')} to 1).`,
        'Combine remixes of one size, and scale the result: kinprint derive --relation rescale.',
      );
    }
    case 'none':
      throw new InputError(
        'combine-unrelated',
        'It has too little in common with the base to be laid over it.',
        'Name the base it was made from; or place all three alike and add --as-placed.',
      );
  }
}

/**
 * The share of both surfaces whose faces are the same bit for bit, where most are: such a remix was edited, not moved,
 * and no search need tell. Null where fewer are.
 */
function sharedWhereItStands(base: Mesh, remix: Mesh): number | null {
  const { before, after, count } = sharedFaces(base, remix);
  const faces = Math.max(before.length, after.length);
  if (Math.min(count.before, count.after) < compareDefaults.standingShare * faces) return null;
  return (areaOf(base, before) + areaOf(remix, after)) / (area(base) + area(remix));
}

function areaOf(mesh: Mesh, flags: Uint8Array): number {
  return area({
    positions: mesh.positions,
    triangles: mesh.triangles.filter((_, k) => flags[(k / 3) | 0] === 1),
  });
}

/** Inches for millimeters and the like; sizes alone tell, since a remix may be too reworked to align at a scale. */
function refuseOtherUnit(ratio: number): void {
  const factor = compareDefaults.unitFactors.find(unit =>
    [unit, 1 / unit].some(wanted => Math.abs(ratio / wanted - 1) < 0.1),
  );
  if (factor === undefined) return;
  throw new InputError(
    'combine-unit',
    `It is ${Number((ratio > 1 ? ratio : 1 / ratio).toPrecision(3))} times as ${ratio > 1 ? 'large' : 'small'} as the base: its numbers are in another unit.`,
    'Export all three in millimeters.',
  );
}

function diagonal(mesh: Mesh): number {
  const box = bounds(mesh);
  return box === null ? 0 : Math.hypot(...box.max.map((v, k) => v - box.min[k]));
}
