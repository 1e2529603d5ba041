export * from './comparison.ts';
export * from './defaults.ts';
export * from './trees/types.ts';
export { align, type AlignOptions, type AlignResult } from './align/align.ts';
export { compareMeshes, type CompareOptions, type Measured } from './compare.ts';
export { deviation, type DeviationOptions, type DeviationResult } from './deviation/deviation.ts';
