export * from './comparison.ts';
export * from './defaults.ts';
export * from './trees/types.ts';
export { angleAxis } from './align/rotation.ts';
export { align, type AlignOptions, type AlignResult } from './align/align.ts';
export {
  compareMeshes,
  type ComparedShapes,
  type CompareOptions,
  type Measured,
  type Measuring,
} from './compare.ts';
export { relateShapes, type RelateOptions, type ShapeRelation } from './relate-shapes.ts';
export { matchedShare, surfacePoints, type SurfacePoints } from './deviation/matched-share.ts';
export {
  deviation,
  deviationAcross,
  type DeviationOptions,
  type DeviationResult,
} from './deviation/deviation.ts';
export { compareParts } from './trees/compare-parts.ts';
export { pairByPathAndContent, type EntryPair, type EntryPairs } from './trees/pair-by-content.ts';
export { bodyMeshes, shapeSummary, type FileSummary, type ShapeSummary } from './trees/shape-summary.ts';
export { treeDefaults } from './trees/tree-defaults.ts';
export { byText, editDistance } from './trees/edit-distance.ts';
export type { BodyRef } from './trees/gather-bodies.ts';
export type { TreeWork, Trouble } from './trees/outcome.ts';
export { materialWith, type MaterialWork } from './material.ts';
export { alone, both, type Helpers, type Offer } from './helpers.ts';
export { sideRange, sideVertices } from './deviation/deviation-side.ts';
export * from './combine/combination.ts';
export { noChoices, type Choices } from './combine/choices.ts';
export {
  combineMeshes,
  openCombination,
  type CombinedMeshes,
  type CombineMeshOptions,
  type CombineSource,
  type OpenCombination,
} from './combine/combine-meshes.ts';
