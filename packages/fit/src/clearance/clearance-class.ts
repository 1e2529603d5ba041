import { isoClearance, type IsoFit } from './iso286.ts';
import { printedClasses, type ClearanceRange, type PrintedClass } from './printed-classes.ts';
import { seriesClearance, type HoleSeries } from './screw-holes.ts';
import { threadClearance } from './threads.ts';

/**
 * How two things are meant to go together: a class of printed clearances, a series of clearance holes for screws, a
 * thread cut or formed in the plastic, or a fit of ISO 286.
 */
export type ClearanceClass = PrintedClass | HoleSeries | 'thread' | IsoFit;

/**
 * What a class asks for.
 *
 * @param nominal_mm of the pin, or of the screw's thread
 * @returns null where the table behind the class does not reach this size
 */
export function clearanceAsked(of: ClearanceClass, nominal_mm: number): ClearanceRange | null {
  if (isIsoFit(of)) return isoClearance(nominal_mm, of);
  switch (of) {
    case 'press':
    case 'snug':
    case 'sliding':
      return printedClasses[of];
    case 'fine':
    case 'medium':
    case 'coarse':
      return seriesClearance(nominal_mm, of);
    case 'thread':
      return threadClearance(nominal_mm);
  }
}

function isIsoFit(of: ClearanceClass): of is IsoFit {
  return of.includes('/');
}
