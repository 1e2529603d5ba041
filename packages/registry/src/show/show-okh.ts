import { okhManifest } from '@kinprint/manifest';
import { InputError } from '@kinprint/mesh';
import { manifestInputError } from '../manifest-input-error.ts';
import type { Cache } from '../cache/cache.ts';
import { runGit } from '../git/program.ts';
import type { StateHistory } from '../history/content-at.ts';
import type { RegistryState } from '../state/types.ts';
import { pageOf, shownContent } from './show-variant.ts';

/**
 * A variant, or one of its revisions, as a manifest of the Open Know-How standard, in TOML.
 *
 * @param repo http(s) address where the registry is published; null where not known
 * @throws InputError as `showVariant`, and `export-incomplete` for what the standard asks for and the registry lacks
 */
export async function showOkh(
  state: RegistryState,
  address: string,
  letter: string | null,
  history: StateHistory,
  cache: Cache,
  repo: string | null,
): Promise<string> {
  const shown = await shownContent(state, address, letter, history);
  const { variant, content, manifest } = shown;
  const page = await pageOf(state, shown, letter, cache);
  const device = state.devices.get(variant.device)?.document?.value ?? null;
  const recorded = page.standing.status === 'recorded' ? page.standing.last : null;
  const version = letter ?? recorded ?? content.commit;
  if (device === null)
    throw incomplete('The device has no device.yaml that can be used.', 'Run kinprint check.');
  if (repo === null)
    throw incomplete('It is not known where the registry is published.', 'Give its address with --repo.');
  if (version === null)
    throw incomplete(
      `What is there now is no revision of ${address}, so there is no version to name.`,
      'Record it, or name a letter: DEVICE/VARIANT@LETTER.',
    );
  const registry = state.registry?.value ?? null;
  const sizes = page.parts.flatMap(part => (part.size_mm === null ? [] : [[part.id, part.size_mm] as const]));
  try {
    return okhManifest(manifest, {
      device,
      folder: content.folder,
      repo,
      version,
      license: registry?.license ?? null,
      maintainers: registry?.maintainers ?? [],
      sizes_mm: new Map(sizes),
    });
  } catch (error) {
    throw manifestInputError(error, variant.document.file);
  }
}

function incomplete(what: string, remedy: string): InputError {
  return new InputError('export-incomplete', what, remedy);
}

/** The http(s) address of the repository's origin, without a name or password in it; null where it has none. */
export async function publishedAt(root: string): Promise<string | null> {
  const answer = await runGit(root, ['config', '--local', '--get', 'remote.origin.url']);
  const address = answer.code === 0 ? answer.out.toString('utf8').trim() : '';
  return /^https?:\/\/\S+$/.test(address) ? address.replace(/^(https?:\/\/)[^/@]*@/, '$1') : null;
}
