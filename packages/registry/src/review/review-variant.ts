import { judgeInterchange, together, type Interchange, type Reason } from '@kinprint/fit';
import { parseRevisionAddress, type Derivation, type Digest, type VariantDocument } from '@kinprint/manifest';
import { closerLook } from '../check/closer-look.ts';
import type { Content } from '../check/likeness.ts';
import { usableVariant } from '../check/usable.ts';
import { inputOrNull } from '../input-or-null.ts';
import { manifestWords } from '../record/manifest-words.ts';
import { folderDigest } from '../state/digest.ts';
import type { RegistryState, VariantState } from '../state/types.ts';
import { assemblyOf } from '../assembly/assembly-of.ts';
import { compareAssemblies } from '../assembly/compare-assemblies.ts';
import type { InterferenceSearch } from '../assembly/interference-search.ts';
import type { AssemblyComparison } from '../assembly/types.ts';
import { assemblyReasons, withAssembly } from './assembly-reasons.ts';
import type { ChangedVariant } from './changed-variants.ts';
import { reviewHardware } from './hardware.ts';
import { pairParts, type PairedPart, type PairMeans } from './pair-parts.ts';
import { reprintList } from './reprint.ts';
import { reviewPart } from './review-part.ts';
import type { Against, DerivationChange, PartReview, Step, VariantReview } from './types.ts';
import { vettingOf } from './vetting.ts';

export interface VariantMeans extends PairMeans {
  readonly search: InterferenceSearch;
  readonly before: RegistryState;
  readonly after: RegistryState;
  /** The content of a letter, of this registry or of a source; null where it cannot be had. */
  readonly contentOf: (address: string, letter: string, source: string | null) => Promise<Content | null>;
  /** Addresses that were made from one, in any number of steps. */
  readonly descendantsOf: (address: string) => readonly string[];
}

export interface ReviewedVariant {
  readonly review: VariantReview;
  /** What each part was compared with. */
  readonly pairs: ReadonlyMap<PartReview, PairedPart>;
  /** The variant's own manifest on each side. */
  readonly manifests: { readonly before: VariantDocument | null; readonly after: VariantDocument | null };
}

/** Everything that is to be said of one changed variant. */
export async function reviewVariant(changed: ChangedVariant, means: VariantMeans): Promise<ReviewedVariant> {
  const { address, change } = changed;
  const was = changed.before === null ? null : contentHere(means.before, changed.before);
  const is = changed.after === null ? null : contentHere(means.after, changed.after);
  const parents = change === 'added' && is !== null ? await parentsOf(is.manifest, means) : [];
  const against: Against | null =
    change === 'added' ? (parents[0]?.against ?? null) : { address, letter: lastLetter(was), relation: null };
  const older = change === 'added' ? parents.map(parent => parent.content) : was === null ? [] : [was];
  return reviewContents({ address, change, against, older, was, is }, means);
}

export interface Contents {
  readonly address: string;
  readonly change: VariantReview['change'];
  readonly against: Against | null;
  /** What the parts are compared with. */
  readonly older: readonly Content[];
  /** The variant itself as it was. */
  readonly was: Content | null;
  readonly is: Content | null;
}

export async function reviewContents(
  { address, change, against, older, was, is }: Contents,
  means: VariantMeans,
): Promise<ReviewedVariant> {
  const registries = {
    before: means.before.registry?.value ?? null,
    after: means.after.registry?.value ?? null,
  };
  const paired = is === null && change !== 'removed' ? [] : await pairParts(older, is, means);
  const assembly = older.length === 1 && is !== null ? await assembliesOf(older[0], is, means) : null;
  const joint = assemblyReasons(assembly);
  const reviewed = await Promise.all(
    paired.map(async pair => [withAssembly(await reviewPart(pair, registries, means), joint), pair] as const),
  );
  const order = new Map((is?.manifest.parts ?? []).map(({ id }, k) => [id, k]));
  reviewed.sort(([a], [b]) => (order.get(a.id) ?? Infinity) - (order.get(b.id) ?? Infinity) || 0);
  const parts = reviewed.map(([part]) => part);
  const base = older.length === 1 ? older[0].manifest : null;
  const hardware =
    base === null || is === null
      ? { changes: [], reasons: [] as Reason[] }
      : reviewHardware(base.hardware ?? [], is.manifest.hardware ?? []);
  const told = new Set(parts.flatMap(part => part.interchange.reasons));
  const own = [...hardware.reasons, ...joint.map(each => each.reason).filter(each => !told.has(each))];
  const interchange =
    is === null || older.length === 0
      ? judgeInterchange([])
      : together(
          parts.map(part => part.interchange),
          own,
        );
  const digest = { before: await digestOf(was), after: await digestOf(is) };
  const letter = {
    before: letterOf(digest.before, was, is),
    after: letterOf(digest.after, is, was),
  };
  return {
    review: {
      address,
      title: (is ?? was)?.manifest.title ?? address,
      change,
      against,
      digest,
      letter,
      // The parts tell their own reasons.
      interchange: { ...interchange, reasons: judgeInterchange(own).reasons },
      step: stepOf(change, interchange, letter.after),
      parts,
      assembly,
      hardware: hardware.changes,
      manifest: was === null || is === null ? [] : manifestWords(was.manifest, is.manifest),
      // Beside another variant it came from nowhere just now.
      derivations:
        change === 'added' && against !== null && against.relation === null
          ? []
          : derivationChanges(was?.manifest ?? null, is?.manifest ?? null),
      reprint:
        is === null || older.length === 0
          ? []
          : reprintList(
              parts,
              is.manifest,
              joint,
              hardware.changes.map(({ id }) => id),
            ),
      ...(await vettingOf([means.before, means.after], address, digest)),
      descendants: means.descendantsOf(address),
    },
    pairs: new Map(reviewed),
    manifests: { before: was?.manifest ?? null, after: is?.manifest ?? null },
  };
}

async function assembliesOf(
  before: Content,
  after: Content,
  { cache, search, pool }: VariantMeans,
): Promise<AssemblyComparison | null> {
  // Where nothing is placed and nothing takes anything there is nothing to compare.
  const silent = [before, after].every(
    ({ manifest }) => manifest.assembly === undefined && !anyMates(manifest),
  );
  if (silent) return null;
  const assembled = (content: Content) =>
    assemblyOf(content, { cache, search, closer: closerLook(content.files, pool, cache) });
  return compareAssemblies(await assembled(before), await assembled(after));
}

function anyMates({ parts }: VariantDocument): boolean {
  return parts.some(({ interfaces = [] }) => interfaces.some(({ mates }) => mates !== undefined));
}

/** What lies in a variant's folder, as far as its manifest can be used. */
export function contentHere(state: RegistryState, variant: VariantState): Content | null {
  const manifest = usableVariant(variant)?.variant.document.value ?? null;
  return manifest === null
    ? null
    : { files: state.files, folder: variant.folder, manifest, refs: variant.files };
}

/** What a variant says it came from, as far as it can be had. */
async function parentsOf(
  manifest: VariantDocument,
  { contentOf }: VariantMeans,
): Promise<{ readonly against: Against; readonly content: Content }[]> {
  const found: { readonly against: Against; readonly content: Content }[] = [];
  for (const { from, relation } of manifest.derivations ?? []) {
    const parts = parseRevisionAddress(from);
    if (parts === null) continue;
    const here = `${parts.device}/${parts.variant}`;
    // A letter that is not there is a finding of the checks, and no reason to end.
    const content = await inputOrNull(() => contentOf(here, parts.letter, parts.source));
    if (content === null) continue;
    const address = parts.source === null ? here : `${parts.source}:${here}`;
    found.push({ against: { address, letter: parts.letter, relation }, content });
  }
  return found;
}

/** null where a file cannot be read, which is told with the files. */
async function digestOf(content: Content | null): Promise<Digest | null> {
  return content === null
    ? null
    : inputOrNull(() => folderDigest(content.files, content.folder, content.manifest, content.refs));
}

function lastLetter(content: Content | null): string | null {
  return content?.manifest.revisions?.at(-1)?.letter ?? null;
}

function letterOf(digest: Digest | null, ...contents: readonly (Content | null)[]): string | null {
  for (const content of contents)
    for (const entry of content?.manifest.revisions ?? []) if (entry.digest === digest) return entry.letter;
  return null;
}

function stepOf(
  change: VariantReview['change'],
  { answer, reasons }: Interchange,
  letter: string | null,
): Step {
  if (change === 'removed') return 'none';
  if (change === 'added') return letter === null ? 'letter' : 'none';
  if (answer === 'no') return 'variant';
  if (answer === 'ask') return 'person';
  return reasons.length === 0 ? 'none' : 'letter';
}

function derivationChanges(
  before: VariantDocument | null,
  after: VariantDocument | null,
): DerivationChange[] {
  const [old, now] = [before?.derivations ?? [], after?.derivations ?? []];
  const key = ({ from, relation }: Derivation): string => `${relation} ${from}`;
  const line = (derivation: Derivation, change: DerivationChange['change']): DerivationChange => ({
    from: derivation.from,
    relation: derivation.relation,
    changes: derivation.changes ?? null,
    change,
  });
  const [oldKeys, newKeys] = [new Set(old.map(key)), new Set(now.map(key))];
  return [
    ...now.map(each => line(each, oldKeys.has(key(each)) ? 'same' : 'added')),
    ...(after === null ? [] : old.filter(each => !newKeys.has(key(each))).map(each => line(each, 'removed'))),
  ];
}
