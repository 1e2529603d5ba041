export * from './types.ts';
export * from './error.ts';
export * from './bytes.ts';
export * from './measurement.ts';
export * from './transform/transform-mesh.ts';
export * from './transform/concatenate.ts';
export { faceAdjacency } from './topology/face-adjacency.ts';
