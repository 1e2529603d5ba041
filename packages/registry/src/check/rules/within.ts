import type { Interface } from '@kinprint/manifest';
import { checkDefaults } from '../defaults.ts';

const { interfaces: limits } = checkDefaults;

/** Whether a size lies within the interface's tolerance; any does where no size is declared. */
export function within(face: Interface, size: number, largest: number): boolean {
  if (face.nominal_mm === undefined) return true;
  const { plus, minus: below } = toleranceOf(face);
  const slack = limits.rounding * Math.max(largest, face.nominal_mm);
  return size <= face.nominal_mm + plus + slack && size >= face.nominal_mm - below - slack;
}

/** As declared, or else the usual one. */
export function toleranceOf({ tolerance_mm }: Interface): { readonly plus: number; readonly minus: number } {
  return tolerance_mm ?? { plus: limits.tolerance_mm, minus: limits.tolerance_mm };
}

/** How far a face or an axis may be off: the wider of the two tolerances. */
export function bears(face: Interface): number {
  const { plus, minus } = toleranceOf(face);
  return Math.max(plus, minus);
}
