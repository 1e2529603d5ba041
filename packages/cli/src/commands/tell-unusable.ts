import type { RegistryState } from '@kinprint/registry';
import type { Io } from '../io.ts';

/** Says on the side that an answer leaves something out: manifests, or registry.yaml itself, that cannot be used. */
export function tellUnusable(state: RegistryState, io: Io): void {
  if (state.registry !== null && state.registry.value === null)
    io.err('registry.yaml has errors, so it was left out; kinprint check tells which.\n');
  const all = [...state.variants.values()];
  const broken = all.filter(variant => variant.document.value === null).length;
  if (broken > 0) io.err(`${broken} of ${all.length} manifests have errors; kinprint check tells which.\n`);
}
