import type { Measurement, Note } from '@kinprint/mesh';
import type { Alignment, Comparison, Deviation } from './comparison.ts';
import { compareDefaults } from './defaults.ts';

/** Says how two triangulations of one surface differ; nothing when the counts agree and the surfaces coincide. */
export function tessellationNote(
  before: Measurement,
  after: Measurement,
  alignment: Alignment,
  gap: Deviation | null,
): Note[] {
  if (gap === null) return [];
  const most = gap.max_mm + gap.max_error_mm;
  if (before.triangles === after.triangles && before.vertices === after.vertices) return [];
  const parts = [
    `The surface is triangulated differently: ${before.triangles} triangles before, ${after.triangles} after`,
    `the two surfaces are at most ${Number(most.toPrecision(3))} mm apart`,
  ];
  const grown = alignment.scale[0] * alignment.scale[1] * alignment.scale[2];
  if (before.volume_mm3 !== null && after.volume_mm3 !== null) {
    const change = Math.abs(after.volume_mm3) - Math.abs(before.volume_mm3) * grown;
    parts.push(`which accounts for ${Number(change.toPrecision(3))} mm³`);
  }
  return [{ code: 'tessellation', text: `${parts.join(', ')}.`, about: 'deviation' }];
}

/** Points out a rework that looks like nothing but another chord tolerance, and how to check. */
export function chordNote(
  c: Pick<Comparison, 'before' | 'after' | 'deviation' | 'features'>,
  diagonal_mm: number,
): Note[] {
  if (c.deviation === null || c.before.triangles === c.after.triangles) return [];
  const most = c.deviation.max_mm + c.deviation.max_error_mm;
  if (most > compareDefaults.chordShareOfDiagonal * diagonal_mm) return [];
  if (c.features.changed.some(f => f.what.includes('diameter'))) return [];
  const enough = Number((Math.ceil(most * 1000 + 1e-9) / 1000).toFixed(3));
  return [
    {
      code: 'chord-tolerance',
      text: `No point deviates by more than ${enough} mm and the facets differ: this may be nothing but another chord tolerance. With --tolerance ${enough} the two are the same shape.`,
      about: 'verdict',
    },
  ];
}

/** Overhang belongs to an orientation: says so when the build direction of the two is not the same for the part. */
export function turnedNote({ matrix }: Alignment): Note[] {
  const upright = Math.abs(matrix[2][2]) / Math.hypot(matrix[0][2], matrix[1][2], matrix[2][2]);
  if (upright > 1 - 1e-9 && matrix[2][2] > 0) return [];
  return [
    {
      code: 'overhang-turned',
      text: 'The part stands in another orientation now, so the two overhangs are not of the same faces.',
      about: 'overhang',
    },
  ];
}

/** Volumes of a surface that crosses itself count some space twice: what material changed is then a guide only. */
export function crossingNote(before: Measurement, after: Measurement): Note[] {
  const crossing = [before, after].map(m => (m.soundness.self_intersections ?? 0) > 0);
  if (!crossing.includes(true)) return [];
  const which =
    crossing[0] && crossing[1]
      ? 'Both surfaces cross themselves'
      : `The surface ${crossing[0] ? 'before' : 'after'} crosses itself`;
  return [
    {
      code: 'material-of-crossing',
      text: `${which}: space that is enclosed twice counts twice, so added and removed material are not certain there.`,
      about: 'volume.added_mm3',
    },
  ];
}

/** Where a surface is missing, the other one is far from anything: the deviation then tells of a hole. */
export function holeNote(before: Measurement, after: Measurement): Note[] {
  if (before.soundness.boundary_edges + after.soundness.boundary_edges === 0) return [];
  return [
    {
      code: 'deviation-of-holes',
      text: 'A surface with holes is compared: where one side has a hole, the deviation is the distance to its rim, and no change of the rest.',
      about: 'deviation',
    },
  ];
}
