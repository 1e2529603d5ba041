import type { AuditFinding } from '@kinprint/license';
import type { DocumentKind, DocumentPath, ReadDocument, VariantDocument } from '@kinprint/manifest';
import type { RegistryState } from '../state/types.ts';
import type { RegistryWorks } from './works-of.ts';

/** Where the line stands that a finding is about. */
export interface FindingPlace {
  /** From the registry's root; null for a work that is not in it. */
  readonly file: string | null;
  /** From 1; null where no line is at fault, or where the letter's manifest is not the one that lies there now. */
  readonly line: number | null;
  /** From 1, in UTF-16 units. */
  readonly column: number | null;
}

export type PlacedFinding = AuditFinding & FindingPlace;

/** Finds the line of a manifest that a finding is about: where it would be mended. */
export function findingPlace(
  state: RegistryState,
  { heads }: RegistryWorks,
  finding: AuditFinding,
): FindingPlace {
  const address = finding.work.split('@')[0];
  const document = state.variants.get(address)?.document;
  if (document === undefined) return { file: null, line: null, column: null };
  const nowhere = { file: document.file, line: null, column: null };
  if (document.value === null || heads.get(address) !== finding.work) return nowhere;
  const path = pathOf(finding, document.value);
  if (path === null) return nowhere;
  const registry = state.registry;
  // A variant without a license of its own has that of the registry, and it is stated there.
  if (path[0] === 'license' && document.value.license === undefined && registry?.value?.license !== undefined)
    return placeIn(registry, path);
  return placeIn(document, path);
}

function placeIn(document: ReadDocument<DocumentKind>, path: DocumentPath): FindingPlace {
  const { line, column } = document.place(path);
  return { file: document.file, line, column };
}

function pathOf(finding: AuditFinding, manifest: VariantDocument): DocumentPath | null {
  const part = finding.part === null ? -1 : manifest.parts.findIndex(each => each.id === finding.part);
  const license: DocumentPath =
    part >= 0 && manifest.parts[part].license !== undefined ? ['parts', part, 'license'] : ['license'];
  const derivation = derivationOf(finding, manifest);
  const of = (key: string): DocumentPath | null =>
    derivation === null ? null : ['derivations', derivation, key];
  switch (finding.code) {
    case 'license-none':
    case 'license-wrong':
    case 'license-out-of-use':
    case 'share-alike':
    case 'version-not-allowed':
    case 'license-clash':
    case 'copy-relabeled':
    case 'two-licenses':
      return license;
    case 'license-forbidden':
      return finding.path.length === 0 ? license : of('from');
    case 'no-permission':
    case 'no-derivatives':
    case 'cannot-combine':
    case 'ask-a-person':
    case 'ancestor-unknown':
    case 'branch-chosen':
    case 'license-withdrawn':
    case 'notice-dropped':
    case 'extra-terms':
      return of('from');
    case 'change-not-indicated':
      return of('changes');
    case 'more-than-declared':
    case 'unchanged-copy':
      return of('relation');
    case 'credit-missing':
    case 'credit-custom':
      return ['authors'];
    case 'undeclared-relative':
    case 'younger-relative':
      return part < 0 ? null : ['parts', part, 'mesh'];
    case 'not-compared':
      return null;
  }
}

/** The entry under `derivations` by which the way up the lineage leaves the variant; null where none does. */
function derivationOf({ path }: AuditFinding, { derivations = [] }: VariantDocument): number | null {
  const out = path.find(step => step.relation !== 'revision');
  if (out === undefined) return null;
  const same = (exact: boolean): number =>
    derivations.findIndex(each => each.from === out.to && (!exact || each.relation === out.relation));
  const index = same(true) >= 0 ? same(true) : same(false);
  return index < 0 ? null : index;
}
