import { ManifestError } from '@kinprint/manifest';
import { InputError } from '@kinprint/mesh';

/**
 * What was caught, for throwing on: what the manifest package objects to becomes an error of the input, at this file or
 * folder. Anything else stays what it is.
 */
export function manifestInputError(error: unknown, file?: string): unknown {
  if (!(error instanceof ManifestError)) return error;
  return new InputError(error.code, error.message, error.remedy, file === undefined ? {} : { file });
}
