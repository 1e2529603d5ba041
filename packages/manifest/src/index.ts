export type * from './generated/types.ts';
export { schemaFiles } from './generated/schema-files.ts';
export { documentKinds, documentNames, type DocumentKind, type Documents } from './documents.ts';
export { defaults as manifestDefaults } from './defaults.ts';
export { ManifestError, type ManifestErrorCode } from './fault.ts';
export { pointer, type DocumentPath, type Problem, type ProblemCode } from './problem.ts';
export { readDocument, type ReadDocument } from './read/read-document.ts';
export { usableRest, type UsableRest } from './read/usable-rest.ts';
export { isDocument } from './read/validate.ts';
export { nearest } from './read/nearest.ts';
export type { TextPlace } from './read/places.ts';
export {
  compareLetters,
  letterAt,
  letterCount,
  letterIndex,
  nextLetter,
  parseLetter,
  type Letter,
} from './letters/letter.ts';
export {
  isId,
  parseRevisionAddress,
  parseVariantAddress,
  revisionAddressText,
  variantAddressText,
  type RevisionAddressParts,
  type VariantAddressParts,
} from './addresses/address.ts';
export { canonicalJson } from './digest/canonical-json.ts';
export { contentDigest, contentListing, type ListedFile } from './digest/content-digest.ts';
export { sha256Hex } from './digest/sha256.ts';
export { editDocument } from './write/edit-document.ts';
export type { Edit } from './write/value-at.ts';
export { schemaLine, writeDocument, type DocumentComments } from './write/write-document.ts';
export { licenseProblem, type LicenseProblem } from './license/license-problem.ts';
export { okhManifest, okhVersion, type OkhContext } from './okh/okh-manifest.ts';
export { mergeValues, type MergeClash, type MergePick } from './merge/merge-values.ts';
