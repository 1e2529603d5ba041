import type { VariantDocument } from '@kinprint/manifest';
import { usableVariant } from '../check/usable.ts';
import { revisionContent, type StateHistory } from '../history/content-at.ts';
import type { RegistryState } from '../state/types.ts';
import { instancesOf } from './instances.ts';
import type { PlacedInstance } from './types.ts';

/** Where a variant's parts are placed; `bounds_mm` is null, as nothing was measured. */
export type NamedPlacement = Pick<PlacedInstance, 'name' | 'part' | 'motion'>;

/**
 * The placements of `DEVICE/VARIANT[@LETTER]`; none where the variant places nothing, or the name is that of a part, or
 * of nothing that is there.
 */
export async function namedPlacements(
  state: RegistryState,
  history: StateHistory,
  name: string,
): Promise<readonly NamedPlacement[]> {
  const manifest = await manifestOf(state, history, name);
  return manifest === null
    ? []
    : instancesOf(manifest, []).placed.map(({ name, part, motion }) => ({ name, part, motion }));
}

async function manifestOf(
  state: RegistryState,
  history: StateHistory,
  name: string,
): Promise<VariantDocument | null> {
  const [address, letter, ...more] = name.split('@');
  const variant = state.variants.get(address);
  if (variant === undefined || more.length > 0 || letter?.includes('/') === true) return null;
  if (letter === undefined) return usableVariant(variant)?.variant.document.value ?? null;
  const found = await revisionContent(state, address, letter, history);
  return found.found ? found.content.document.value : null;
}
