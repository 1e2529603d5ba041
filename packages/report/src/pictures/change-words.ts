import type { Comparison, Region } from '@kinprint/compare';
import type { Feature, Vec3 } from '@kinprint/mesh';
import { changeText } from '../terminal/compare-text.ts';
import { featureName } from '../terminal/feature-text.ts';
import { direction, num, size } from '../terminal/words.ts';

/** What a region is, in two short lines. */
export interface RegionWords {
  /** `bore ⌀3.20 → ⌀3.00`, `added at the face toward z`. */
  readonly what: string;
  /** `+12.40 mm³, up to 1.20 mm deep`. */
  readonly amount: string;
}

/** One numbered piece of a change. */
export interface ChangedPlace extends RegionWords {
  readonly number: number;
  readonly kind: 'added' | 'removed';
}

/** The words of a region: the feature that changed with it where there is one, else what it is near to, else its size. */
export function regionWords(region: Region, { features }: Comparison): RegionWords {
  const sign = region.kind === 'added' ? '+' : '−';
  const amount = `${sign}${num(region.volume_mm3)} mm³, up to ${num(region.depth_mm)} mm deep`;
  return { what: whatOf(region, features), amount };
}

function whatOf(
  { kind, nearest_feature: near, bounds_mm }: Region,
  features: Comparison['features'],
): string {
  const { min, max } = bounds_mm;
  const extent: Vec3 = [max[0] - min[0], max[1] - min[1], max[2] - min[2]];
  if (
    near !== null &&
    near.distance_mm <= touching_mm &&
    near.feature.kind !== 'plane' &&
    !isAbout(near.feature, extent)
  )
    return `${kind}, within ${size(extent, 1)} mm`;
  if (near !== null && near.distance_mm <= touching_mm) {
    const { feature, of } = near;
    const changed = features.changed.find(change =>
      same(of === 'after' ? change.after : change.before, feature),
    );
    // The place and the direction are seen; what is left is the kind of change and its size.
    if (changed !== undefined) return changeText(changed).replace(/ (at|by) \([^()]*\)/g, '');
    const name = featureName(feature);
    if (of === 'after' && features.added.some(each => same(each, feature))) return `new ${name}`;
    if (of === 'before' && features.removed.some(each => same(each, feature))) return `${name} is gone`;
    if (feature.kind !== 'plane' || direction(feature.axis, 2).length <= 2) return `${kind} at the ${name}`;
  }
  return `${kind}, within ${size(extent, 1)} mm`;
}

/** Nearer than this a region and a feature are one; by eye, no source. */
const touching_mm = 0.05;

/** Whether a region is no larger than a few times a bore or pin that it touches; else it only happens to touch it. */
function isAbout(feature: Exclude<Feature, { kind: 'plane' }>, [x, y, z]: Vec3): boolean {
  return Math.max(x, y, z) <= 3 * Math.max(feature.diameter_mm, feature.length_mm);
}

function same(a: Feature, b: Feature): boolean {
  return (
    a.kind === b.kind &&
    a.diameter_mm === b.diameter_mm &&
    a.at_mm.every((v, k) => Math.abs(v - b.at_mm[k as 0]) < 1e-9)
  );
}
