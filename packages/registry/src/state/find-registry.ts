import { lstatSync } from 'node:fs';
import path from 'node:path';
import { InputError } from '@kinprint/mesh';
import { registryFile } from './registry-files.ts';

/**
 * The registry that a folder is, or lies in: the nearest folder upwards that holds registry.yaml.
 *
 * @param start a folder, absolute
 * @throws InputError `registry-not-found`
 */
export function findRegistry(start: string): string {
  for (let folder = path.resolve(start); ; folder = path.dirname(folder)) {
    if (isRegistry(folder)) return folder;
    if (folder === path.dirname(folder))
      throw new InputError(
        'registry-not-found',
        `There is no ${registryFile} here, nor in any folder above.`,
        'Go to a registry, name one with --registry, or make one with kinprint start.',
        { file: start },
      );
  }
}

/**
 * The registry that a person named, which must be the folder itself.
 *
 * @throws InputError `registry-not-found`
 */
export function namedRegistry(folder: string): string {
  if (isRegistry(folder)) return path.resolve(folder);
  throw new InputError(
    'registry-not-found',
    `There is no ${registryFile} in this folder.`,
    'Name the folder that holds it, or make a registry with kinprint start.',
    { file: folder },
  );
}

function isRegistry(folder: string): boolean {
  try {
    return lstatSync(path.join(folder, registryFile), { throwIfNoEntry: false })?.isFile() ?? false;
  } catch {
    return false; // e.g. a folder above that may not be entered
  }
}
