import type { Kernel } from '@kinprint/solid';
import { bodyCases } from './bodies.ts';
import type { CorpusCase } from './case.ts';
import { hardToAlignCases } from './hard-to-align.ts';
import { reworkedCases } from './reworked.ts';
import { sameShapeCases } from './same-shape.ts';
import { scaleCases, twinCases } from './twins-and-scales.ts';

export * from './case.ts';
export { treeCases } from './trees.ts';

/**
 * Pairs of meshes that easy comparisons get wrong, each with what is true of it by construction. The same on every
 * run; takes about three seconds to make.
 */
export function cases(kernel: Kernel): CorpusCase[] {
  return [
    ...sameShapeCases(kernel),
    ...reworkedCases(kernel),
    ...twinCases(kernel),
    ...scaleCases(kernel),
    ...bodyCases(kernel),
    ...hardToAlignCases(kernel),
  ];
}
