import canonicalize from 'canonicalize';
import { ManifestError } from '../fault.ts';

/**
 * JSON in the one form that RFC 8785 allows: keys sorted by UTF-16 units, no spaces, numbers as ECMAScript prints
 * them. Keys whose value is undefined are left out.
 *
 * @throws ManifestError `not-canonical` for NaN, infinities, lone surrogates, circles, and a value that is no JSON
 */
export function canonicalJson(value: unknown): string {
  let text: string | undefined;
  try {
    text = canonicalize(value);
  } catch (error) {
    const why = error instanceof RangeError ? 'it is nested too deeply' : (error as Error).message;
    throw new ManifestError(
      'not-canonical',
      `This has no canonical form: ${why}.`,
      'Use finite numbers and well-formed text.',
    );
  }
  if (text === undefined)
    throw new ManifestError('not-canonical', 'This is no JSON value.', 'Pass plain data.');
  return text;
}
