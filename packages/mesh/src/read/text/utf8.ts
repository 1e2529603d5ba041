import { strFromU8 } from 'fflate';

/** Bytes in UTF-8 as text; broken sequences become replacement characters. */
export function utf8Text(bytes: Uint8Array): string {
  return strFromU8(bytes);
}
