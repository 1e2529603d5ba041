import type { Note } from '@kinprint/mesh';
import type { Alignment } from '../comparison.ts';
import { compareDefaults } from '../defaults.ts';
import { placementParts } from './describe.ts';
import type { Placement } from './placement.ts';

const ACROSS = [
  'across the plane x = constant',
  'across the plane y = constant',
  'across the plane z = constant',
  'through a point',
];

/** What a person should know of an alignment beyond its figures. */
export function alignmentNotes(placement: Placement, alignment: Alignment, insideOut: boolean): Note[] {
  const notes: Note[] = [];
  const { reflection } = placementParts(placement);
  if (reflection !== null) {
    notes.push({
      code: 'mirrored-across',
      text: `AFTER is BEFORE mirrored ${ACROSS[reflection]}${alignment.rotation_deg > 0.01 ? ', then turned' : ''}.`,
      about: 'alignment',
    });
  }
  if (insideOut) {
    notes.push({
      code: 'inside-out',
      text: 'The faces of one mesh point inward where the other’s point outward, as after a scaling by a negative factor.',
      about: 'alignment',
    });
  }
  const unit = unitFactor(alignment);
  if (unit !== null) {
    notes.push({
      code: 'unit-factor',
      text: `The sizes differ by exactly ${unit}: another unit, not another design.`,
      about: 'alignment',
    });
  }
  return notes;
}

function unitFactor({ scale }: Alignment): number | null {
  if (scale[0] !== scale[1] || scale[0] !== scale[2]) return null;
  for (const factor of compareDefaults.unitFactors) {
    for (const f of [factor, 1 / factor]) if (Math.abs(scale[0] / f - 1) < 1e-5) return factor;
  }
  return null;
}
