import type { PartReview } from '@kinprint/registry';
import { num, size } from '../terminal/words.ts';

/** The figures of a part that a maintainer asks for first: the name, before → after. Those that nothing is known of are left out. */
export function partFigures({ comparison: c, mass_g }: PartReview): (readonly [string, string])[] {
  const text = (value: number | null, digits = 2): string | null =>
    value === null ? null : num(value, digits);
  const rows: [string, string | null, string | null][] = [
    ['mass, g', text(mass_g.before), text(mass_g.after)],
  ];
  if (c !== null) {
    // The size along the axes says nothing when the part was turned.
    if (c.alignment.rotation_deg < 1e-6)
      rows.push([
        'size, mm',
        c.before.size_mm && size(c.before.size_mm, 1),
        c.after.size_mm && size(c.after.size_mm, 1),
      ]);
    rows.push(
      ['volume, mm³', text(c.volume.before_mm3, 1), text(c.volume.after_mm3, 1)],
      ['thinnest wall, mm', text(c.thinnest_wall.before_mm), text(c.thinnest_wall.after_mm)],
      ['overhang, mm²', text(c.overhang.before_mm2, 1), text(c.overhang.after_mm2, 1)],
    );
  }
  return rows.flatMap(([name, before, after]) => {
    if (before === null && after === null) return [];
    return [[name, before === after ? `${after}` : `${before ?? '—'} → ${after ?? '—'}`] as const];
  });
}
