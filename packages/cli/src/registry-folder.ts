import path from 'node:path';
import { InputError } from '@kinprint/mesh';
import { findRegistry, namedRegistry } from '@kinprint/registry';

/**
 * The registry a command works on: the one named, or the one that the folder lies in.
 *
 * @throws InputError `registry-not-found`
 */
export function registryFolder(named: string | undefined, cwd: string): string {
  return named === undefined ? findRegistry(cwd) : namedRegistry(path.resolve(cwd, named));
}

/**
 * The same for a command that reads commits alone, which need not be checked out: where there is no registry.yaml, the
 * folder itself, be it the root of a repository or a bare one. Whether the commits hold a registry is told of them.
 */
export function committedRegistryFolder(named: string | undefined, cwd: string): string {
  try {
    return registryFolder(named, cwd);
  } catch (error) {
    if (error instanceof InputError && error.code === 'registry-not-found')
      return path.resolve(cwd, named ?? '.');
    throw error;
  }
}
