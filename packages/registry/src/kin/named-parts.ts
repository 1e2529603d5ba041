import { InputError } from '@kinprint/mesh';
import { revisionContent, type StateHistory } from '../history/content-at.ts';
import type { RegistryState } from '../state/types.ts';
import { kinSubjects } from './kin-of.ts';
import type { MeshIn } from './print-parts.ts';
import { partsOf } from './registered-parts.ts';

/** A registered part, now or at a letter. */
export interface NamedPart extends MeshIn {
  /** `device/variant/part`, or `device/variant@LETTER/part`. */
  readonly name: string;
}

/**
 * The parts that `DEVICE/VARIANT[@LETTER][/PART]` names.
 *
 * @throws InputError `address-bad`, `variant-unknown`, `manifest-unusable`, `letter-unknown`, `content-missing`,
 *   `part-unknown`, `part-missing`
 */
export async function namedParts(
  state: RegistryState,
  history: StateHistory,
  name: string,
): Promise<NamedPart[]> {
  const match = /^([^@]*)@([^@/]+)(?:\/([^@/]+))?$/.exec(name);
  if (match === null)
    return (await kinSubjects(state, name)).map(({ name, entry, unit }) => ({ name, entry, unit }));
  const [, address, letter, part] = match as unknown as [string, string, string, string | undefined];
  const found = await revisionContent(state, address, letter, history);
  const manifest = found.found ? found.content.document.value : null;
  if (!found.found || manifest === null)
    throw new InputError(
      'content-missing',
      `What ${address}@${letter} held cannot be had.`,
      'kinprint check says why.',
    );
  const { files, folder, refs } = found.content;
  const parts = await partsOf(files, folder, refs, manifest, address, letter);
  const chosen = parts.filter(({ place }) => part === undefined || place.part === part);
  if (chosen.length === 0) {
    const ids = manifest.parts.map(({ id }) => id);
    throw new InputError(
      part === undefined || ids.includes(part) ? 'part-missing' : 'part-unknown',
      `${address}@${letter} has no mesh${part === undefined ? '' : ` of a part '${part}'`}.`,
      `Its parts: ${ids.join(', ')}.`,
    );
  }
  return chosen.map(({ entry, unit, place }) => ({
    name: `${address}@${letter}/${place.part}`,
    entry,
    unit,
  }));
}
