import { usableDocument } from '../check/usable.ts';
import type { OpenCheck } from '../check/open-check.ts';
import { registryFile } from '../state/registry-files.ts';
import type { RegistryState } from '../state/types.ts';

/**
 * The same with what can be used of registry.yaml; its problems stay, and are told by the checks. Its registry is null
 * where nothing of it can be used.
 */
export function withUsableRegistry(open: OpenCheck): OpenCheck {
  const { registry } = open.state;
  if (registry === null || registry.value !== null) return open;
  const usable = usableDocument(registry);
  // Without a value it still has its problems.
  return usable === null ? open : { ...open, state: { ...open.state, registry: usable.document } };
}

/** Whether there is no registry.yaml at all, and not only one that cannot be used. */
export function holdsNone({ registry, problems }: RegistryState): boolean {
  return (
    registry === null &&
    problems.some(({ code, file }) => code === 'registry-missing' && file === registryFile)
  );
}

/**
 * Whether a finding says that a variant is under no license, while the license of the registry may stand in a registry.yaml
 * that cannot be used: it waits until that is mended.
 */
export function licenseUnknown(code: string, { registry }: RegistryState): boolean {
  return code === 'license-none' && (registry?.value ?? null) === null;
}

/** What the registry is called, in the first state that says so. */
export function registryName(...states: readonly RegistryState[]): string {
  const named = states.find(({ registry }) => registry?.value?.name !== undefined);
  return named?.registry?.value?.name ?? 'A registry without a name that can be read';
}
