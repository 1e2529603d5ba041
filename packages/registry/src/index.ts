export * from './defaults.ts';
export * from './snapshot/types.ts';
export { fileSource } from './snapshot/file-source.ts';
export { snapshotFromPath } from './snapshot/from-folder.ts';
export { openRepository, type Repository } from './git/repository.ts';
export { parseRevisionSpec, type RevisionSpec } from './git/revision-spec.ts';
export { snapshotFromGit } from './git/snapshot-from-git.ts';
export { builtWorker } from './work/built-worker.ts';
export { crewHelpers } from './work/crew-helpers.ts';
export { openCrew, type Crew } from './work/crew.ts';
export { comparePair } from './work/compare-entries.ts';
export { measureFiles } from './work/measure-files.ts';
export { compareTrees, type TreeHooks } from './work/compare-trees.ts';
export type { FileOptions, FileReport, PairComparison, PairOptions } from './work/task.ts';
export * from './state/registry-files.ts';
export { workingFiles } from './state/working-files.ts';
export { documentsAnd, oneVariant, type Wanted } from './state/wanted-files.ts';
export { commitFiles } from './state/commit-files.ts';
export { findRegistry, namedRegistry } from './state/find-registry.ts';
export * from './lineage/types.ts';
export { bareNode } from './lineage/bare-node.ts';
export { indexLineage, type LineageIndex } from './lineage/lineage-index.ts';
export { ancestorsOf, descendantsOf } from './lineage/reach.ts';
export { commonAncestors, type CommonAncestors } from './lineage/common.ts';
export { topologicalOrder, type LineageOrder } from './lineage/order.ts';
export { circlesOf, type Circles } from './lineage/circles.ts';
export { lineageOf, type LineageKnowledge } from './lineage/lineage-of.ts';
export { danglingEnds, partOfLineage } from './lineage/part.ts';
export * from './state/types.ts';
export { readRegistry } from './state/read-registry.ts';
export { standing, variantDigest, type Standing } from './state/digest.ts';
export {
  openHistory,
  type Found,
  type History,
  type MissingContent,
  type RevisionContent,
} from './history/history.ts';
export type { HistoryGap } from './history/gaps.ts';
export {
  presentContent,
  repositoryPrefix,
  stateHistory,
  variantOf,
  type StateHistory,
} from './history/content-at.ts';
export { openCache, noCache, type Cache } from './cache/cache.ts';
export { cacheFolder } from './cache/cache-folder.ts';
export { hashMemory } from './cache/hash-memory.ts';
export { atExit } from './at-exit.ts';
export { cachedReader } from './cache/read-document-cached.ts';
export { checkRegistry } from './check/check-registry.ts';
export { checkDefaults } from './check/defaults.ts';
export { findingCodes, type FindingCode, type Severity } from './check/codes.ts';
export type { Finding } from './check/finding.ts';
export type { PartFacts, PartLook } from './check/facts.ts';
export { measureParts, unitOf, type MeshWanted } from './check/measure-parts.ts';
export { openCheck, type OpenCheck } from './check/open-check.ts';
export { inShard, parseShard, type Shard } from './check/shard.ts';
export type { CheckOptions, CheckReport } from './check/types.ts';
export * from './record/record.ts';
export { recordVariant } from './record/record-variant.ts';
export { summarizeChanges } from './record/summarize-changes.ts';
export { startRegistry, type StartOptions, type StartReport } from './start/start-registry.ts';
export {
  deriveVariant,
  type DeriveReport,
  type DeriveRequest,
  type OpenSourceRegistry,
} from './derive/derive-variant.ts';
export { adopt, type AdoptOptions, type AdoptOutcome } from './adopt/adopt.ts';
export { adoptDefaults } from './adopt/adopt-defaults.ts';
export * from './adopt/plan/types.ts';
export type { Adopted, AdoptPoint } from './adopt/write/write-plan.ts';
export { openSources, type OpenedSource, type SourceOptions, type Sources } from './sources/open-sources.ts';
export { showVariant } from './show/show-variant.ts';
export type { ClearanceLine, Cost, PageStanding, PartLine, VariantPage } from './show/variant-page.ts';
export {
  kinOf,
  kinSubjects,
  type KinAnswer,
  type KinRelative,
  type KinReport,
  type KinSource,
  type KinSubject,
} from './kin/kin-of.ts';
export type { Declared } from './kin/declared.ts';
export { kinDefaults } from './kin/kin-defaults.ts';
export { kinIndex, nearestPrints, type KinIndex, type Neighbor } from './kin/kin-index.ts';
export { findKin, type Candidate, type KinFound, type Relative } from './kin/find-kin.ts';
export { verifyKin, type KinRelation, type Kinship } from './kin/verify-kin.ts';
export type { KinPlace } from './kin/registered-parts.ts';
export { namedParts, type NamedPart } from './kin/named-parts.ts';
export { wholeMesh } from './work/whole-mesh.ts';
export { publishedAt, showOkh } from './show/show-okh.ts';
export {
  auditRegistry,
  type PlacedWork,
  type RegistryAudit,
  type RegistryAuditOptions,
} from './licenses/audit-registry.ts';
export { creditsOf } from './licenses/restated.ts';
export type { FindingPlace, PlacedFinding } from './licenses/finding-places.ts';
export { licensePolicy, worksOf, type RegistryWorks, type WorksContext } from './licenses/works-of.ts';
export type { Bill, BillFile, BillLink, BillPart, BillRevision } from './bill/types.ts';
export { billOf } from './bill/bill-of.ts';
export { licenseText } from './reuse/license-text.ts';
export { writeReuse, type ReuseOutcome, type ReuseRequest } from './reuse/write-reuse.ts';
export {
  combineEntries,
  combineFiles,
  keptCombinations,
  readAlike,
  type CombineEntries,
  type CombineWork,
} from './combine/combine-files.ts';
export type { CombineOutput, WrittenFormat } from './work/task.ts';
export { combineVariants } from './combine/combine-variants.ts';
export type {
  CombinedPart,
  CombineVariantsReport,
  CombineVariantsRequest,
  DocumentConflict,
  VariantChoices,
} from './combine/variants.ts';
export * from './review/types.ts';
export * from './assembly/types.ts';
export { assemblyOf, type AssemblyMeans } from './assembly/assembly-of.ts';
export { assemblyDefaults } from './assembly/defaults.ts';
export { compareAssemblies, takesName } from './assembly/compare-assemblies.ts';
export {
  interferenceSearch,
  type InterferenceSearch,
  type InterferenceSearchOptions,
} from './assembly/interference-search.ts';
export { reviewCodes, type ReviewCode } from './review/codes.ts';
export {
  reviewChange,
  type OpenChange,
  type OpenReview,
  type ReviewRequest,
} from './review/review-change.ts';
export { reviewTwo, type TwoRequest } from './review/review-two.ts';
export type {
  MissingKind,
  MissingLine,
  Preparation,
  PrepareBase,
  PreparedParent,
  PreparedPart,
  PreparedVariant,
} from './prepare/types.ts';
export { openPreparation, type OpenPreparation, type PrepareRequest } from './prepare/prepare.ts';
export { addCertainLines, type AddedLine } from './prepare/add-certain-lines.ts';
export { eachPartShapes, type PartShapes, type PartWork } from './review/part-shapes.ts';
export { holdShapes, type HeldShapes } from './review/held-shapes.ts';
export { askInTime, type Asked } from './work/ask-in-time.ts';
export { openSpool, type Spool, type Spooled } from './work/spool.ts';
export { openThreads, type Threads } from './work/threads.ts';
export type { PairedPart, SidePart } from './review/pair-parts.ts';
export { namedPlacements, type NamedPlacement } from './assembly/named-placements.ts';
