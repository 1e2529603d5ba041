import { plainName } from '@kinprint/license';
import { parseRevisionAddress, type Author, type Derivation, type VariantDocument } from '@kinprint/manifest';
import type { Cache } from '../cache/cache.ts';
import { measureParts, wantedMesh, type MeshWanted } from '../check/measure-parts.ts';
import type { PartFacts } from '../check/facts.ts';
import { printersTaking, printersTakingOnSide } from '../check/rules/printers.ts';
import { inputOrNull } from '../input-or-null.ts';
import { hardwareWords } from '../review/hardware.ts';
import { reviewChange, type OpenChange } from '../review/review-change.ts';
import type { VariantReview } from '../review/types.ts';
import type { OpenedSource } from '../sources/open-sources.ts';
import type { RegistryState, VariantState } from '../state/types.ts';
import { changesFromParent, changesSentence } from './changes-sentence.ts';
import { prepareBase } from './default-base.ts';
import type { KnownRelative } from './join-relatives.ts';
import { missingLines, type OfferedLine } from './missing-lines.ts';
import type { Preparation, PreparedParent, PreparedPart, PreparedVariant } from './types.ts';

export interface PrepareRequest {
  /** The folder that holds registry.yaml. */
  readonly root: string;
  /** null for the default branch. */
  readonly base: string | null;
  readonly cache: Cache;
  readonly published: string | null;
  /** Whether relatives that nobody declared are looked for. */
  readonly shapes: boolean;
  /** Whether what changed will be drawn. */
  readonly drawn: boolean;
  readonly progress?: (done: number, total: number) => void;
}

/** What a contributor wants to know, with the review that it is made from. */
export interface OpenPreparation {
  readonly preparation: Preparation;
  readonly opened: OpenChange;
  /** The missing lines of each variant, with the edits that write them. */
  readonly offers: ReadonlyMap<string, readonly OfferedLine[]>;
  close(): Promise<void>;
}

/**
 * Looks at what lies in the folder as a maintainer will: what changed since the base, what they will ask, and which lines
 * the manifests lack. Reads only.
 *
 * @throws InputError `repository-not-found`, `nothing-committed`, `revision-unknown`, `registry-not-found`
 */
export async function openPreparation(request: PrepareRequest): Promise<OpenPreparation> {
  const base = await prepareBase(request.root, request.base);
  const opened = await reviewChange({ ...request, base: base.name, head: null });
  try {
    const offers = new Map<string, readonly OfferedLine[]>();
    const variants: PreparedVariant[] = [];
    for (const review of opened.review.variants) {
      const variant = opened.after.state.variants.get(review.address);
      const manifest = variant?.document.value ?? null;
      if (variant === undefined || manifest === null) continue;
      const prepared = await prepareVariant(review, variant, manifest, opened);
      offers.set(review.address, prepared.offers);
      variants.push(prepared.variant);
    }
    request.cache.flush();
    const { review } = opened;
    const preparation = { base, ready: review.counts.blocking === 0, review, variants };
    return { preparation, opened, offers, close: () => opened.close() };
  } catch (error) {
    await opened.close();
    throw error;
  }
}

async function prepareVariant(
  review: VariantReview,
  variant: VariantState,
  manifest: VariantDocument,
  opened: OpenChange,
): Promise<{ readonly variant: PreparedVariant; readonly offers: readonly OfferedLine[] }> {
  const { state } = opened.after;
  const registry = state.registry?.value ?? null;
  const parents: Parent[] = [];
  for (const derivation of manifest.derivations ?? []) parents.push(await parentOf(derivation, opened));
  const facts = await factsOf(variant, manifest, opened);
  const added = review.change === 'added';
  const sameShape = new Set(
    review.parts
      .filter(({ verdict }) => verdict === 'identical' || verdict === 'same-shape')
      .map(({ id }) => id),
  );
  const offers = missingLines({
    text: variant.document.text,
    manifest,
    added,
    registryLicense: registry?.license ?? null,
    parents: parents.map(parent => ({
      digest: parent.digest,
      summary: parent.manifest?.summary ?? null,
      license: parent.license,
      changes: added ? changesOf(review, parent, parents) : null,
    })),
    parts: manifest.parts.map((part, k) => ({
      was: parents.flatMap(parent => parent.manifest?.parts ?? []).find(({ id }) => id === part.id) ?? null,
      facts: sameShape.has(part.id) ? null : facts[k],
    })),
    owed: owedTo(review.address, manifest, opened),
    relatives: relativesOf(review.address, opened, await opened.after.openedSources()),
    purpose: state.devices.get(variant.device)?.document?.value?.purpose ?? null,
  });
  return {
    variant: {
      address: review.address,
      file: variant.document.file,
      title: manifest.title,
      summary: manifest.summary ?? null,
      license: manifest.license ?? registry?.license ?? null,
      authors: (manifest.authors ?? []).map(({ name }) => name),
      parents: parents.map(preparedParent),
      parts: manifest.parts.map((part, k): PreparedPart => {
        const size = facts[k]?.bounds_mm?.size ?? null;
        return {
          id: part.id,
          quantity: part.quantity ?? 1,
          material: part.material ?? null,
          size_mm: size === null ? null : [size[0], size[1], size[2]],
          printers:
            size === null || (registry?.printers ?? []).length === 0
              ? null
              : printersTaking(size, part, registry),
          on_another_side: size === null ? [] : printersTakingOnSide(size, part, registry),
        };
      }),
      hardware: (manifest.hardware ?? []).map(hardwareWords),
      missing: offers.map(({ line }) => line),
    },
    offers,
  };
}

/** Where two parents lie in folders of one name, what came from which is not known. */
function changesOf(review: VariantReview, { folder }: Parent, parents: readonly Parent[]): string | null {
  if (parents.length === 1) return changesSentence(review);
  const alone = parents.filter(other => other.folder === folder).length === 1;
  return folder === null || !alone ? null : changesFromParent(review, folder);
}

interface Parent {
  readonly derivation: Derivation;
  /** From its registry's root; null where it is not at hand. */
  readonly folder: string | null;
  readonly manifest: VariantDocument | null;
  readonly digest: string | null;
  readonly license: string | null;
}

async function parentOf(derivation: Derivation, { after }: OpenChange): Promise<Parent> {
  const address = parseRevisionAddress(derivation.from);
  const nowhere = { derivation, folder: null, manifest: null, digest: null, license: null };
  if (address === null) return nowhere;
  const home = stateOf(address.source, after.state, await after.openedSources());
  if (home === null) return nowhere;
  const here = `${address.device}/${address.variant}`;
  // A letter that cannot be had is a finding of the checks.
  const content = await inputOrNull(() => after.options.contentOf(here, address.letter, address.source));
  const manifest = content?.manifest ?? null;
  return {
    derivation,
    folder: content?.folder ?? null,
    manifest,
    digest: digestOf(home, here, address.letter),
    license: manifest === null ? null : (manifest.license ?? home.registry?.value?.license ?? null),
  };
}

function stateOf(
  source: string | null,
  state: RegistryState,
  sources: ReadonlyMap<string, OpenedSource>,
): RegistryState | null {
  return source === null ? state : (sources.get(source)?.state ?? null);
}

function digestOf(state: RegistryState, address: string, letter: string): string | null {
  const entries = state.variants.get(address)?.document.value?.revisions ?? [];
  return entries.find(entry => entry.letter === letter)?.digest ?? null;
}

function preparedParent({ derivation, manifest, license }: Parent): PreparedParent {
  return {
    from: derivation.from,
    relation: derivation.relation,
    changes: derivation.changes ?? null,
    title: manifest?.title ?? null,
    license,
    authors: (manifest?.authors ?? []).map(({ name }) => name),
  };
}

/** What was measured of each part; the review measured them before, so the cache knows. */
async function factsOf(
  variant: VariantState,
  manifest: VariantDocument,
  { after }: OpenChange,
): Promise<(PartFacts | null)[]> {
  const wanted = manifest.parts.map(part => wantedMesh(variant, part));
  const there = wanted.filter((mesh): mesh is MeshWanted => mesh !== null);
  const looks = await measureParts(after.state.files, there, { cache: after.options.cache });
  return wanted.map(mesh => {
    const look = mesh === null ? undefined : looks[there.indexOf(mesh)];
    return look?.state === 'measured' ? look.facts : null;
  });
}

/** People who are not named, of works whose licenses ask for it. */
function owedTo(
  address: string,
  manifest: VariantDocument,
  { audits }: OpenChange,
): { readonly author: Author; readonly of: string }[] {
  const named = new Set((manifest.authors ?? []).map(({ name }) => plainName(name)));
  const owed: { readonly author: Author; readonly of: string }[] = [];
  for (const { code, work, path } of audits.findings) {
    const of = path.at(-1)?.to;
    if (code !== 'credit-missing' || work.split('@')[0] !== address || of === undefined) continue;
    const withheld = audits.works?.works.find(({ id }) => id === of)?.withheld ?? [];
    for (const author of audits.works?.contents.get(of)?.document.value?.authors ?? []) {
      if (named.has(plainName(author.name)) || withheld.includes(author.name)) continue;
      named.add(plainName(author.name));
      owed.push({ author, of });
    }
  }
  return owed;
}

/** What the audit found to have the shape of a part, where it has a letter to derive from. */
function relativesOf(
  address: string,
  { audits, after }: OpenChange,
  sources: ReadonlyMap<string, OpenedSource>,
): KnownRelative[] {
  return audits.findings.flatMap(({ work, part, undeclared }): KnownRelative[] => {
    if (undeclared === undefined || work.split('@')[0] !== address || undeclared.relation === 'revision')
      return [];
    const to = parseRevisionAddress(undeclared.to);
    if (to === null) return [];
    const home = stateOf(to.source, after.state, sources);
    const digest = home === null ? null : digestOf(home, `${to.device}/${to.variant}`, to.letter);
    return [{ from: undeclared.to, relation: undeclared.relation, digest, part }];
  });
}
