import { kinDefaults } from './kin-defaults.ts';
import type { MeshIn } from './print-parts.ts';

/** How much may still be compared. */
export interface ComparisonBound {
  /** Whether a comparison may be made; it is then counted. Once one may not, no other may. */
  take(query: MeshIn, candidate: MeshIn, distance: number): boolean;
}

/** @param bytes `kinDefaults.auditBytes` says what is counted */
export function comparisonBound(bytes: number = kinDefaults.auditBytes): ComparisonBound {
  let left = bytes;
  return {
    take({ entry: { size: a } }, { entry: { size: b } }, distance) {
      const alike = a === b && distance <= kinDefaults.alikeWithin;
      const cost = alike ? kinDefaults.auditAlikeBytes : (a ?? 0) + (b ?? 0) + kinDefaults.auditPairBytes;
      left = cost <= left ? left - cost : 0;
      return left > 0;
    },
  };
}
