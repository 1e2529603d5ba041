import type { Feature, Vec3 } from '@kinprint/mesh';
import type { PartReview } from '@kinprint/registry';
import { changeText } from '../terminal/compare-text.ts';
import { featureName } from '../terminal/feature-text.ts';
import { num, point } from '../terminal/words.ts';
import type { PartPlace } from './part-data.ts';

/** Places of a part that a review speaks of beside pieces of material: features, interfaces, the thinnest wall. */
export function placesOf({ comparison, interfaces }: PartReview): PartPlace[] {
  const places: PartPlace[] = [];
  for (const { id, state, at_mm, moved_mm, measured_mm } of interfaces) {
    if (state === 'kept' || at_mm === null) continue;
    const moved = moved_mm === null || moved_mm === 0 ? '' : `, moved ${num(moved_mm)} mm`;
    const { before, after } = measured_mm;
    const sizes =
      before !== null && after !== null && before !== after ? `, ${num(before)} → ${num(after)} mm` : '';
    places.push({
      label: `interface ${id}: ${state}${sizes}${moved}`,
      at_mm,
      size_mm: 2 * (after ?? before ?? 5),
      axis: null,
    });
  }
  if (comparison === null) return places;
  const { changed, added, removed } = comparison.features;
  for (const change of changed) places.push(placeOf(change.after, changeText(change)));
  for (const each of added) places.push(placeOf(each, `new ${featureName(each)} at ${point(each.at_mm, 1)}`));
  for (const each of removed)
    places.push(placeOf(each, `${featureName(each)} at ${point(each.at_mm, 1)} is gone`));
  const { before_mm, after_mm, after_at } = comparison.thinnest_wall;
  if (after_at !== null && after_mm !== null && before_mm !== null && num(before_mm) !== num(after_mm))
    places.push({
      label: `thinnest wall: ${num(before_mm)} → ${num(after_mm)} mm`,
      at_mm: middle(after_at.from_mm, after_at.to_mm),
      size_mm: 8 * after_mm,
      axis: null,
    });
  return places.filter(place => place.at_mm.every(Number.isFinite) && Number.isFinite(place.size_mm));
}

function placeOf(feature: Feature, label: string): PartPlace {
  const size_mm =
    feature.kind === 'plane'
      ? Math.sqrt(feature.area_mm2)
      : Math.max(1.5 * feature.diameter_mm, feature.length_mm);
  return { label, at_mm: feature.at_mm, size_mm, axis: feature.axis };
}

function middle(a: Vec3, b: Vec3): Vec3 {
  return [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2];
}
