import { isId, parseRevisionAddress, parseVariantAddress } from '@kinprint/manifest';
import { InputError } from '@kinprint/mesh';
import { didYouMean, nearestNames } from '../git/nearest.ts';
import { revisionContent, stateHistory, variantOf, type StateHistory } from '../history/content-at.ts';
import { unusableManifest } from '../state/digest.ts';
import type { RegistryState } from '../state/types.ts';
import { carryOver } from './carry-over.ts';
import type { Derived, DeriveOptions, Parent } from './derive.ts';
import { transformVariant } from './transform-variant.ts';
import { writeVariant } from './write-variant.ts';

export interface DeriveRequest extends DeriveOptions {
  /** `device/variant@B`; without a letter the last one. `source:device/variant@B` where `sources` has it. */
  readonly from: string;
  /** Further parents, for a combination. */
  readonly others: readonly string[];
  /** `device/variant`, or a variant's name alone for the same device. */
  readonly to: string;
}

/** A registry that is a source of this one, opened. */
export interface OpenSourceRegistry {
  readonly state: RegistryState;
  readonly history: StateHistory;
}

export interface DeriveReport {
  /** `device/variant`. */
  readonly address: string;
  readonly folder: string;
  readonly parents: readonly { readonly address: string; readonly digest: string }[];
  readonly parts: number;
  readonly files: number;
  readonly unsettled: readonly string[];
}

/**
 * Makes a variant from recorded revisions of others: their content as it was recorded, read from history without a
 * checkout, with the link (letter and digest), credit, license and cautions carried over.
 *
 * @param source opens a source by its name
 * @throws InputError for addresses that lead nowhere, relations that do not go with what is asked, content that
 *   cannot be had; nothing is written then
 */
export async function deriveVariant(
  state: RegistryState,
  request: DeriveRequest,
  source: (name: string) => Promise<OpenSourceRegistry> = noSource,
): Promise<DeriveReport> {
  const root = state.files.root;
  if (root === null) throw new Error('Only a working copy can be added to.');
  checkRequest(request);
  const history = stateHistory(root);
  try {
    const parents: Parent[] = [];
    for (const address of [request.from, ...request.others])
      parents.push(await parentOf(state, history, address, source));
    const [first] = parents;
    const to = targetOf(state, request.to, first.address);
    const whole = carryOver(parents, request);
    const derived: Derived =
      request.relation === 'mirror'
        ? await transformVariant(whole, first, { kind: 'mirror' })
        : request.relation === 'rescale'
          ? await transformVariant(whole, first, { kind: 'rescale', scale: request.scale ?? 1 })
          : whole;
    await writeVariant(root, `devices/${to}`, derived);
    return {
      address: to,
      folder: `devices/${to}`,
      parents: parents.map(({ address, digest }) => ({ address, digest })),
      parts: derived.manifest.parts.length,
      files: derived.files.length,
      unsettled: derived.unsettled,
    };
  } finally {
    await history.close();
  }
}

function checkRequest({ relation, scale, others }: DeriveRequest): void {
  const wrong = (what: string, remedy: string) => new InputError('relation-unfit', what, remedy);
  if (relation === 'rescale' && scale === undefined)
    throw wrong('A rescaled variant needs its factor.', 'Give it with --scale, e.g. --scale 1.1.');
  if (relation !== 'rescale' && scale !== undefined)
    throw wrong('A factor goes with rescaling alone.', 'Add --relation rescale.');
  if (scale !== undefined && !(Number.isFinite(scale) && scale > 0))
    throw wrong('The factor must be a number above 0.', 'E.g. --scale 1.1.');
  if (relation === 'combination' && others.length === 0)
    throw wrong('A combination has at least two parents.', 'Name the others with --from.');
  if (relation !== 'combination' && others.length > 0)
    throw wrong('Several parents make a combination.', 'Add --relation combination.');
}

/**
 * The revision that an address names, with its content.
 *
 * @throws InputError for an address that leads nowhere, content that cannot be had
 */
export async function parentOf(
  here: RegistryState,
  ownHistory: StateHistory,
  text: string,
  source: (name: string) => Promise<OpenSourceRegistry>,
): Promise<Parent> {
  const revision = parseRevisionAddress(text);
  const variant = revision ?? parseVariantAddress(text);
  if (variant === null)
    throw new InputError(
      'address-bad',
      `'${text}' is no address of a variant.`,
      'Write device/variant@LETTER; the letter may be left out.',
    );
  const { state, history } =
    variant.source === null ? { state: here, history: ownHistory } : await source(variant.source);
  const address = `${variant.device}/${variant.variant}`;
  const found = variantOf(state, address);
  if (found.document.value === null) throw unusableManifest(found);
  const letter = revision?.letter ?? found.document.value.revisions?.at(-1)?.letter;
  if (letter === undefined)
    throw new InputError(
      'nothing-recorded',
      `Nothing is recorded of ${address} yet, so there is no revision to derive from.`,
      `Record it first: kinprint record ${address}`,
      { file: found.document.file },
    );
  const content = await revisionContent(state, address, letter, history);
  if (!content.found)
    throw new InputError(
      'content-missing',
      `The content of ${address}@${letter} cannot be had: ${content.text}`,
      'Fetch the whole history, or derive from a later letter.',
      { file: found.document.file },
    );
  const manifest = content.content.document.value;
  const digest = found.document.value?.revisions?.find(entry => entry.letter === letter)?.digest;
  if (manifest === null || digest === undefined) throw new Error('Content was found without its manifest.');
  const prefix = variant.source === null ? '' : `${variant.source}:`;
  return {
    address: `${prefix}${address}@${letter}`,
    digest,
    content: content.content,
    manifest,
    registryLicense: state.registry?.value?.license ?? null,
    here: variant.source === null,
  };
}

/** Where the new variant goes; its device must be there. @throws InputError `address-bad`, `device-unknown` */
export function targetOf(state: RegistryState, to: string, parent: string): string {
  const address = isId(to) ? `${parent.replace(/^[^:]*:/, '').split('/')[0]}/${to}` : to;
  const parsed = parseVariantAddress(address);
  if (parsed === null || parsed.source !== null)
    throw new InputError(
      'address-bad',
      `'${to}' cannot name a variant.`,
      'Use lower-case letters, digits and hyphens: NAME, or DEVICE/NAME.',
    );
  if (!state.devices.has(parsed.device))
    throw new InputError(
      'device-unknown',
      `There is no device '${parsed.device}' here.`,
      `${didYouMean(nearestNames(parsed.device, state.devices.keys()))}Make devices/${parsed.device}/device.yaml first.`,
    );
  return address;
}

/** Opens no other registry. */
export function noSource(name: string): Promise<OpenSourceRegistry> {
  return Promise.reject(
    new InputError('source-unknown', `registry.yaml lists no source '${name}'.`, 'Add it under sources.'),
  );
}
