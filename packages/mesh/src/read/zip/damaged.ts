import { InputError } from '../../error.ts';

/** The error for an archive that cannot be read. */
export function damaged(what: string): InputError {
  return new InputError('zip-damaged', `the archive is damaged: ${what}`, 'Fetch or export the file again.');
}
