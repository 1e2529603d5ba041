export * from './kernel.ts';
export * from './frame.ts';
export { toManifold, fromManifold } from './convert.ts';
export { volumeOf, union, subtract, intersection, intersectionVolume } from './solids.ts';
export { defaults } from './defaults.ts';
export { materialDifference } from './difference/material-difference.ts';
export type { MaterialDifference, MaterialOptions, MaterialRegion } from './difference/types.ts';
export * from './combine/types.ts';
export { findChanges } from './combine/find-changes.ts';
export { findContact } from './combine/contact.ts';
export { combineSolids } from './combine/combine.ts';
export { proveCombination, type Balance, type Presence, type SolidProof } from './combine/prove.ts';
export type {
  Interference,
  InterferenceOptions,
  InterferenceRegion,
  Interferences,
  PlacedSolid,
} from './assembly/types.ts';
export { closePairs, sharedBox } from './assembly/close-pairs.ts';
export { findInterferences } from './assembly/find-interferences.ts';
