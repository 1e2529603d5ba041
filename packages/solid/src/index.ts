export * from './kernel.ts';
export * from './frame.ts';
export { toManifold, fromManifold } from './convert.ts';
export { volumeOf, union, subtract, intersection, intersectionVolume } from './solids.ts';
export { defaults } from './defaults.ts';
export { materialDifference } from './difference/material-difference.ts';
export type { MaterialDifference, MaterialOptions, MaterialRegion } from './difference/types.ts';
