import type { PartReview, Review, VariantReview } from '@kinprint/registry';
import { isDrawn } from '../drawing/is-drawn.ts';
import type { PartDrawing, Still, Undrawn } from '../drawing/part-drawing.ts';

/** A small picture of each variant: of the part that changed most. */
export type VariantStills = ReadonlyMap<VariantReview, Still>;

/** Rows that have one: a longer list is read for its words. */
const most = 24;

export async function variantStills(
  { variants }: Review,
  drawingOf: (part: PartReview) => Promise<PartDrawing | Undrawn | null>,
): Promise<VariantStills> {
  const stills = new Map<VariantReview, Still>();
  // The table is there for several.
  if (variants.length < 2) return stills;
  for (const variant of variants.slice(0, most)) {
    const parts = variant.parts.filter(isDrawn).sort((a, b) => amount(b) - amount(a));
    for (const part of parts) {
      const drawing = await drawingOf(part);
      if (drawing?.kind !== 'drawn') continue;
      stills.set(variant, drawing.small);
      break;
    }
  }
  return stills;
}

/** mm³ added and removed; of a part that is another altogether all of it. New and gone parts come after those that changed. */
function amount({ comparison }: PartReview): number {
  if (comparison === null) return -1;
  const { added_mm3, removed_mm3, before_mm3, after_mm3 } = comparison.volume;
  if (comparison.verdict === 'replaced') return Math.abs(before_mm3 ?? 0) + Math.abs(after_mm3 ?? 0);
  return (added_mm3 ?? 0) + (removed_mm3 ?? 0);
}
