import { lstatSync, mkdirSync, readdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { randomBytes } from 'node:crypto';
import { writeDocument } from '@kinprint/manifest';
import { InputError } from '@kinprint/mesh';
import { manifestInputError } from '../manifest-input-error.ts';
import { requirePortable } from '../snapshot/portable-names.ts';
import { variantFile } from '../state/registry-files.ts';
import type { Derived } from './derive.ts';

/**
 * Writes a new variant's folder: beside its place first, then put there in one step, so that it is there whole or
 * not at all.
 *
 * @param folder from the root; nothing may be there
 * @throws InputError `variant-exists`, `name-unsafe`, `document-invalid`, what keeps a file from being read or written
 */
export async function writeVariant(root: string, folder: string, derived: Derived): Promise<void> {
  const place = path.join(root, folder);
  for (const name of [folder, ...derived.files.map(file => file.path)]) requirePortable(name);
  refuseTaken(root, folder);
  const beside = path.join(
    path.dirname(place),
    `.kinprint-derive-${process.pid}-${randomBytes(4).toString('hex')}`,
  );
  try {
    mkdirSync(beside);
    writeFileSync(path.join(beside, variantFile), manifestText(derived));
    for (const file of derived.files) {
      const target = path.join(beside, ...file.path.split('/'));
      mkdirSync(path.dirname(target), { recursive: true });
      if (file.kind === 'bytes') writeFileSync(target, file.bytes, { flag: 'wx' });
      else {
        const ref = file.parent.content.refs.find(item => item.path === file.from);
        if (ref === undefined)
          throw new InputError('file-missing', 'The file is missing.', 'Run kinprint check.', {
            file: file.from,
          });
        if (ref.problem?.code === 'not-regular') continue;
        writeFileSync(target, await file.parent.content.files.bytes(ref), { flag: 'wx' });
      }
    }
    refuseTaken(root, folder);
    renameSync(beside, place);
  } finally {
    rmSync(beside, { recursive: true, force: true });
  }
}

function manifestText(derived: Derived): string {
  try {
    return writeDocument('variant', derived.manifest, derived.comments);
  } catch (error) {
    throw manifestInputError(error);
  }
}

function exists(folder: string): InputError {
  return new InputError(
    'variant-exists',
    'There is something of that name already.',
    'Choose another name; nothing is overwritten.',
    { file: folder },
  );
}

/** Nothing is overwritten. @throws InputError `variant-exists` */
export function refuseTaken(root: string, folder: string): void {
  if (isTaken(path.join(root, folder))) throw exists(folder);
}

/** An empty folder is free. */
function isTaken(place: string): boolean {
  const stat = lstatSync(place, { throwIfNoEntry: false });
  return stat !== undefined && !(stat.isDirectory() && readdirSync(place).length === 0);
}
