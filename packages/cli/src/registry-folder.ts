import path from 'node:path';
import { findRegistry, namedRegistry } from '@kinprint/registry';

/**
 * The registry a command works on: the one named, or the one that the folder lies in.
 *
 * @throws InputError `registry-not-found`
 */
export function registryFolder(named: string | undefined, cwd: string): string {
  return named === undefined ? findRegistry(cwd) : namedRegistry(path.resolve(cwd, named));
}
