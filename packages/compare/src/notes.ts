import type { Measurement, Note } from '@kinprint/mesh';
import type { Alignment, Deviation } from './comparison.ts';

/** Says how two triangulations of one surface differ; nothing when the counts agree and the surfaces coincide. */
export function tessellationNote(before: Measurement, after: Measurement, alignment: Alignment, gap: Deviation | null): Note[] {
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
