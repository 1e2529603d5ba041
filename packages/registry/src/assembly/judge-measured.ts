import { judgeClearance, type Clearance, type ClearanceClass } from '@kinprint/fit';
import { assemblyDefaults } from './defaults.ts';

/** How two measured sizes stand to a class; the clearance to the micrometer. */
export function judgeMeasured(
  bore_mm: number,
  pin_mm: number,
  of: ClearanceClass | null,
  metric: boolean,
): Pick<Clearance, 'asked' | 'verdict'> & { readonly clearance_mm: number } {
  const exact = (nominal_mm: number) => ({ nominal_mm, plus_mm: 0, minus_mm: 0 });
  const { nominal_mm, asked, verdict } = judgeClearance(exact(bore_mm), exact(pin_mm), of, metric);
  return { clearance_mm: rounded(nominal_mm), asked, verdict };
}

/** To the micrometer. */
export function rounded(mm: number): number {
  const steps = Math.round(1 / assemblyDefaults.measured_mm);
  return Math.round(mm * steps) / steps;
}
