export * from './types.ts';
export * from './error.ts';
export * from './bytes.ts';
export * from './measurement.ts';
export * from './transform/transform-mesh.ts';
export { movedDirection, movedPoint, rigidMotion, type Turn } from './transform/rigid-motion.ts';
export * from './transform/concatenate.ts';
export { buildDirections } from './build-directions.ts';
export { faceNormals, type FaceNormals } from './face-normals.ts';
export { faceAdjacency } from './topology/face-adjacency.ts';
export { readMesh, type ReadOptions } from './read/read-mesh.ts';
export { millimetersPer } from './read/units.ts';
export { writeStlBinary } from './write/stl-binary.ts';
export { weldWithin, type SeamWeld } from './weld/weld-within.ts';
export {
  createFloat64Welder,
  float64Positions,
  weldFloat64,
  type Float64Welder,
} from './weld/weld-float64.ts';
export { pairEdges, type EdgePairs } from './topology/edge-pairs.ts';
export { area } from './mass/area.ts';
export { bounds } from './mass/bounds.ts';
export { massProperties, type MassProperties } from './mass/mass-properties.ts';
export { topology, type Topology } from './topology/topology.ts';
export { bodies } from './topology/bodies.ts';
export { subMesh } from './topology/sub-mesh.ts';
export { findFeatures, type FeatureOptions } from './features/find-features.ts';
export { meshDefaults } from './defaults.ts';
export { footprint, type Footprint } from './placing/footprint.ts';
export { turnToFit } from './placing/turn-to-fit.ts';
export { buildTree } from './tree/build.ts';
export { maxDepth, noSlot, type TriangleTree } from './tree/tree.ts';
export { closestHit, closestPoint, type ClosestHit } from './tree/closest.ts';
export { distanceSqToTriangle } from './tree/point-triangle.ts';
export { raycast, rayHit, type RayHit } from './tree/raycast.ts';
export { isInside, windingNumber } from './tree/inside.ts';
export { forEachInBox, overlappingPairs } from './tree/overlap.ts';
export { measureCore } from './measure/measure-core.ts';
export { writeThreeMf, type ThreeMfOptions } from './write/three-mf.ts';
export { measure, type MeasureOptions } from './measure/measure.ts';
export {
  type FileMeasurement,
  measureFile,
  measureMesh,
  measureTask,
  measureTasks,
  meshTask,
  type MeasureTask,
} from './measure/measure-file.ts';
export { halves, joinHalves } from './measure/halves.ts';
export { overhang, type Overhang, type OverhangOptions } from './overhang/overhang.ts';
export { thinnestWalls, type ThinnestWalls, type WallOptions } from './walls/thinnest-walls.ts';
export { crossingPlace } from './soundness/crossing-place.ts';
export { crossingPairs, type CrossingOptions, type CrossingPairs } from './soundness/crossing-pairs.ts';
export { seamClosed } from './measure/close-seams.ts';
export { solidAngle } from './tree/solid-angle.ts';
export {
  fingerprint,
  fingerprintValues,
  fingerprintVersion,
  surfaceValues,
  type Fingerprint,
  type FingerprintOptions,
} from './fingerprint/fingerprint.ts';
