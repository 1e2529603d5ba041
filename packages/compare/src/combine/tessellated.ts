import { compareDefaults } from '../defaults.ts';
import type { Region } from '../comparison.ts';

/** Changed places so shallow and so many that they look like facets, not changes. */
export interface Tessellated {
  readonly places: number;
  /** None of them is deeper. */
  readonly within_mm: number;
  /** The tolerance that has them count as the same: `within_mm` rounded up to 1, 2 or 5 of a decimal place. */
  readonly tolerance_mm: number;
}

/** What a surface tessellated anew leaves of changes; null where there are only a few shallow ones. */
export function tessellatedAnew(regions: readonly Pick<Region, 'depth_mm'>[]): Tessellated | null {
  const { facetDepth_mm, facetPlaces } = compareDefaults;
  const shallow = regions.filter(({ depth_mm }) => depth_mm <= facetDepth_mm);
  if (shallow.length < facetPlaces) return null;
  const within_mm = shallow.reduce((most, { depth_mm }) => Math.max(most, depth_mm), 0);
  return { places: shallow.length, within_mm, tolerance_mm: stepAbove(room * within_mm) };
}

/** Depths of many pieces are those of their corners, and may be a little more between. Common practice, no source. */
const room = 1.05;

/** The least of 1, 2, 5, 10 … of a decimal place that is not below. */
function stepAbove(value: number): number {
  const decade = Math.floor(Math.log10(value));
  const step = [1, 2, 5, 10].find(each => each * 10 ** decade >= value * (1 - 1e-12)) ?? 10;
  return Number((step * 10 ** decade).toPrecision(1));
}
