import { readFileSync } from 'node:fs';
import { canonicalJson, ManifestError, sha256Hex } from '@kinprint/manifest';
import { describe, expect, it } from 'vitest';

const read = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../reference/provenance/${name}`, import.meta.url), 'utf8'));

interface CanonicalDocument {
  readonly input: string;
  readonly canonical: string;
  readonly canonical_utf8_hex: string;
  readonly sha256: string;
}
// RFC 8785; see test/reference/provenance/NOTICE.md.
const vectors = read('jcs-vectors.json') as {
  readonly numbers_ieee754_hex_to_text: readonly (readonly [string, string])[];
  readonly number_errors: readonly string[];
  readonly published_documents: readonly CanonicalDocument[];
  readonly own_documents: readonly CanonicalDocument[];
};
const double = (hex: string): number => Buffer.from(hex, 'hex').readDoubleBE(0);

describe('canonical JSON', () => {
  it('prints the numbers of RFC 8785, appendix B', () => {
    expect(vectors.numbers_ieee754_hex_to_text.length).toBeGreaterThan(20);
    for (const [hex, text] of vectors.numbers_ieee754_hex_to_text)
      expect(canonicalJson(double(hex)), hex).toBe(text);
  });

  it('refuses what is no JSON number, half characters, and circles', () => {
    const circle: unknown[] = [];
    circle.push(circle);
    for (const bad of [...vectors.number_errors.map(double), '\ud800', { '\udc00': 1 }, circle, undefined])
      expect(() => canonicalJson(bad)).toThrow(ManifestError);
  });

  it('gives the published bytes and hashes', async () => {
    for (const one of [...vectors.published_documents, ...vectors.own_documents]) {
      const text = canonicalJson(JSON.parse(one.input));
      expect(Buffer.from(text).toString('hex'), one.input).toBe(one.canonical_utf8_hex);
      expect(await sha256Hex(text)).toBe(one.sha256);
    }
  });
});

describe('SHA-256', () => {
  it('gives the hashes of the NIST example messages', async () => {
    const { sha256 } = read('hash-vectors.json') as {
      readonly sha256: {
        readonly cases: readonly { utf8?: string; repeat?: string; times?: number; hex: string }[];
      };
    };
    expect(sha256.cases).toHaveLength(5);
    for (const one of sha256.cases) {
      const text = one.utf8 ?? (one.repeat ?? '').repeat(one.times ?? 0);
      expect(await sha256Hex(text)).toBe(one.hex);
      expect(await sha256Hex(new TextEncoder().encode(text))).toBe(one.hex);
    }
  });

  it('takes a part of a buffer, shared ones too', async () => {
    const shared = new Uint8Array(new SharedArrayBuffer(5));
    shared.set(new TextEncoder().encode('xabcx'));
    expect(await sha256Hex(shared.subarray(1, 4))).toBe(await sha256Hex('abc'));
    expect(await sha256Hex(new TextEncoder().encode('xabcx').subarray(1, 4))).toBe(await sha256Hex('abc'));
  });
});
