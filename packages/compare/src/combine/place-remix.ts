import { bounds, InputError, transformMesh, type Mesh } from '@kinprint/mesh';
import { align, type AlignResult } from '../align/align.ts';
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
  const { alignment, exact } = closest(base, remix, tolerance_mm, asPlaced);
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

/** Of two placements that fit alike, as a nearly symmetric part has them, the one that leaves the remix where it is. */
function closest(base: Mesh, remix: Mesh, tolerance_mm: number, asPlaced: boolean): AlignResult {
  const still = align(remix, base, { tolerance_mm, asPlaced: true });
  if (asPlaced || still.exact || standsThere(base, remix)) return still;
  const found = align(remix, base, { tolerance_mm });
  if (found.alignment.kind === 'none' || found.exact) return found;
  const slack = compareDefaults.alignEqualShare;
  return still.alignment.matched >= found.alignment.matched - slack ? still : found;
}

/** Whether most faces are the base's, bit for bit where they are there: it was edited, not moved. */
function standsThere(base: Mesh, remix: Mesh): boolean {
  const { count } = sharedFaces(base, remix);
  const faces = Math.max(base.triangles.length, remix.triangles.length) / 3;
  return Math.min(count.before, count.after) >= compareDefaults.standingShare * faces;
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
