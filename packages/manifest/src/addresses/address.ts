import { parseLetter, type Letter } from '../letters/letter.ts';

/** A variant, in this registry (`source` null) or in one that registry.yaml lists. */
export interface VariantAddressParts {
  readonly source: string | null;
  readonly device: string;
  readonly variant: string;
}

/** One revision of a variant. */
export interface RevisionAddressParts extends VariantAddressParts {
  readonly letter: Letter;
}

const name = /^[a-z0-9]+(?:-[a-z0-9]+)*$/;
const longest = 64;

/** Whether a text may name a device, variant, part or source: lower-case letters, digits, single hyphens, at most 64. */
export function isId(text: string): boolean {
  return text.length <= longest && name.test(text);
}

/** `device/variant` or `source:device/variant`; null for anything else. */
export function parseVariantAddress(text: string): VariantAddressParts | null {
  const colon = text.indexOf(':');
  const source = colon < 0 ? null : text.slice(0, colon);
  const steps = text.slice(colon + 1).split('/');
  if (steps.length !== 2) return null;
  const [device = '', variant = ''] = steps;
  if (!isId(device) || !isId(variant) || (source !== null && !isId(source))) return null;
  return { source, device, variant };
}

/** `device/variant@LETTER` or `source:device/variant@LETTER`; null for anything else. */
export function parseRevisionAddress(text: string): RevisionAddressParts | null {
  const at = text.indexOf('@');
  if (at < 0) return null;
  const variant = parseVariantAddress(text.slice(0, at));
  const letter = parseLetter(text.slice(at + 1));
  return variant === null || letter === null ? null : { ...variant, letter };
}

export function variantAddressText(address: VariantAddressParts): string {
  return `${address.source === null ? '' : `${address.source}:`}${address.device}/${address.variant}`;
}

export function revisionAddressText(address: RevisionAddressParts): string {
  return `${variantAddressText(address)}@${address.letter}`;
}
