import { parseVariantAddress } from '@kinprint/manifest';
import { InputError } from '@kinprint/mesh';
import type { Cache } from '../cache/cache.ts';
import { didYouMean, nearestNames } from '../git/nearest.ts';
import { variantOf, type StateHistory } from '../history/content-at.ts';
import { lineageOf } from '../lineage/lineage-of.ts';
import { unusableManifest } from '../state/digest.ts';
import type { RegistryState } from '../state/types.ts';
import { declaredIn, type Declared } from './declared.ts';
import { evidenceOf } from './evidence.ts';
import { findKin, type Candidate, type Relative } from './find-kin.ts';
import type { MeshIn } from './print-parts.ts';
import { presentParts, recordedParts, type KinPlace } from './registered-parts.ts';

/** What is looked up: a mesh from anywhere, or a registered part. */
export interface KinSubject extends MeshIn {
  readonly name: string;
  /** `device/variant` and part; null for a mesh from elsewhere. */
  readonly registered: { readonly address: string; readonly part: string } | null;
}

export interface KinRelative extends Omit<Relative<KinPlace>, 'places'> {
  /** The same content may be registered in several places. */
  readonly places: readonly (KinPlace & { readonly declared: Declared | null })[];
  readonly evidence: string;
}

/** Everything that was found of one subject. */
export interface KinAnswer {
  readonly name: string;
  readonly registered: KinSubject['registered'];
  /** Strongest first. */
  readonly relatives: readonly KinRelative[];
}

export interface KinReport {
  readonly registry: string;
  readonly answers: readonly KinAnswer[];
  /** Different meshes looked through; those of them that could not be read. */
  readonly looked: number;
  readonly unreadable: number;
  /** Recorded letters whose content could not be had, or that were beyond what is read. */
  readonly letters_missing: number;
}

/** Another registry that is looked through as well. */
export interface KinSource {
  readonly name: string;
  readonly state: RegistryState;
  readonly history: StateHistory;
}

export interface KinOfOptions {
  readonly cache: Cache;
  readonly sources?: readonly KinSource[];
  readonly limit?: number;
  readonly progress?: (done: number, total: number) => void;
}

/**
 * The parts that `device/variant` or `device/variant/part` names.
 *
 * @throws InputError `address-bad`, `variant-unknown`, `manifest-unusable`, `part-unknown`, `part-missing`
 */
export async function kinSubjects(state: RegistryState, name: string): Promise<KinSubject[]> {
  const [device, variant, part, ...rest] = name.split('/');
  const address = `${device}/${variant ?? ''}`;
  const parsed = parseVariantAddress(address);
  if (parsed === null || parsed.source !== null || rest.length > 0)
    throw new InputError(
      'address-bad',
      `'${name}' is no file, and no address of a variant.`,
      'Name a mesh file, DEVICE/VARIANT or DEVICE/VARIANT/PART.',
    );
  const { document, folder } = variantOf(state, address);
  if (document.value === null) throw unusableManifest(variantOf(state, address));
  const ids = document.value.parts.map(({ id }) => id);
  if (part !== undefined && !ids.includes(part))
    throw new InputError(
      'part-unknown',
      `${address} has no part '${part}'.`,
      `${didYouMean(nearestNames(part, ids))}Its parts: ${ids.join(', ')}.`,
      { file: document.file },
    );
  const present = await presentParts(
    { ...state, variants: new Map([[address, variantOf(state, address)]]) },
    null,
  );
  const found = present.filter(({ place }) => part === undefined || place.part === part);
  if (found.length === 0)
    throw new InputError(
      'part-missing',
      `${part === undefined ? address : name} has no mesh that could be looked up.`,
      'kinprint check says what is missing.',
      { file: folder },
    );
  return found.map(({ entry, unit, place }) => ({
    name: `${address}/${place.part}`,
    entry,
    unit,
    registered: { address, part: place.part },
  }));
}

/**
 * What the subjects are related to, among all that the registry and the sources given hold and held. A registered part
 * is not told to be its own relative, neither now nor at earlier letters.
 *
 * @throws InputError for a subject that cannot be read
 */
export async function kinOf(
  state: RegistryState,
  history: StateHistory,
  subjects: readonly KinSubject[],
  { cache, sources = [], limit, progress }: KinOfOptions,
): Promise<KinReport> {
  const candidates: Candidate<KinPlace>[] = [];
  let letters_missing = 0;
  for (const from of [{ name: null, state, history }, ...sources]) {
    candidates.push(...(await presentParts(from.state, from.name)));
    const recorded = await recordedParts(from.state, from.history, from.name);
    candidates.push(...recorded.parts);
    letters_missing += recorded.missing;
  }
  const graph = lineageOf(state, { sources: new Map(sources.map(each => [each.name, each.state])) });
  const saidOf = declaredIn(graph);
  const answers: KinAnswer[] = [];
  let looked = 0;
  let unreadable = 0;
  for (const subject of subjects) {
    const own = subject.registered;
    const declared = own === null ? null : saidOf(own.address);
    const others = candidates.filter(
      ({ place }) => place.address !== own?.address || place.part !== own.part,
    );
    const found = await findKin(subject, others, {
      cache,
      ...(limit === undefined ? {} : { limit }),
      ...(progress === undefined ? {} : { progress }),
    });
    answers.push({
      name: subject.name,
      registered: own,
      relatives: found.relatives.map(({ places, ...relative }) => ({
        ...relative,
        places: places.map(place => ({ ...place, declared: declared?.(place.address) ?? null })),
        evidence: evidenceOf(relative.kinship),
      })),
    });
    looked = Math.max(looked, found.looked);
    unreadable = Math.max(unreadable, found.unreadable);
  }
  return {
    registry: state.registry?.value?.name ?? state.files.name,
    answers,
    looked,
    unreadable,
    letters_missing,
  };
}
