import type { Vec3 } from '@kinprint/mesh';
import { lengthOf, minus } from './vector.ts';

/** From one point to another, along the axes of the file. */
export interface Measured {
  readonly distance_mm: number;
  readonly along_mm: Vec3;
}

export function measured(from: Vec3, to: Vec3): Measured {
  const along_mm = minus(to, from);
  return { distance_mm: lengthOf(along_mm), along_mm };
}

/** `12.40 mm (Δx +3.00, Δy −12.03, Δz 0)`. */
export function measuredText({ distance_mm, along_mm }: Measured, step_mm: number): string {
  const figure = (value: number): string => lengthText(Math.abs(value), step_mm);
  const signed = (value: number): string => {
    const text = figure(value);
    return Number(text) === 0 ? '0' : `${value < 0 ? '−' : '+'}${text}`;
  };
  const [x, y, z] = along_mm.map(signed);
  return `${figure(distance_mm)} mm (Δx ${x}, Δy ${y}, Δz ${z})`;
}

/** With as many digits as the places of the page are true to, from two to four. */
export function lengthText(value_mm: number, step_mm: number): string {
  const digits = Math.max(2, Math.min(4, Math.round(-Math.log10(Math.max(step_mm, 1e-9)))));
  return value_mm.toFixed(digits);
}
