import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { schemaFiles } from '../generated/schema-files.ts';
import { letterAt } from '../letters/letter.ts';
import {
  isId,
  parseRevisionAddress,
  parseVariantAddress,
  revisionAddressText,
  variantAddressText,
} from './address.ts';

const { $defs } = JSON.parse(schemaFiles['advisory.schema.json'] ?? '') as {
  readonly $defs: Readonly<
    Record<'id' | 'variantAddress', { readonly pattern: string; readonly maxLength?: number }>
  >;
};
const derivation = JSON.parse(schemaFiles['variant.schema.json'] ?? '') as {
  readonly $defs: { readonly revisionAddress: { readonly pattern: string } };
};

const id = fc.stringMatching(/^[a-z0-9]{1,5}(-[a-z0-9]{1,5}){0,2}$/);
const address = fc.record({ source: fc.option(id), device: id, variant: id });

describe('addresses', () => {
  it('are read into their parts', () => {
    expect(parseVariantAddress('cuff/small-left')).toEqual({
      source: null,
      device: 'cuff',
      variant: 'small-left',
    });
    expect(parseRevisionAddress('other:cuff/small@AB')).toEqual({
      source: 'other',
      device: 'cuff',
      variant: 'small',
      letter: 'AB',
    });
  });

  it('are null for anything else', () => {
    for (const text of [
      '',
      'cuff',
      'cuff/',
      '/small',
      'a/b/c',
      'A/b',
      'a/b ',
      'a:b:c/d',
      ':a/b',
      'a:/b',
      '../b',
      'a--b/c',
      'a/b@A',
      `${'a'.repeat(65)}/b`,
    ])
      expect(parseVariantAddress(text), text).toBeNull();
    for (const text of ['a/b', 'a/b@', 'a/b@I', 'a/b@a', 'a/b@A@B', '@A', 'a@A/b'])
      expect(parseRevisionAddress(text), text).toBeNull();
  });

  it('come back from their text', () => {
    fc.assert(
      fc.property(address, fc.nat(419), (parts, index) => {
        expect(parseVariantAddress(variantAddressText(parts))).toEqual(parts);
        const letter = letterAt(index);
        if (letter === null) throw new Error('no letter');
        const revision = { ...parts, letter };
        expect(parseRevisionAddress(revisionAddressText(revision))).toEqual(revision);
      }),
    );
  });

  it('are what the schemas take (names of at most 64 signs aside)', () => {
    const near = fc.oneof(
      fc.string({ maxLength: 12 }),
      fc.stringMatching(/^[a-zA-I:/@-]{1,12}$/),
      address.map(variantAddressText),
    );
    fc.assert(
      fc.property(near, text => {
        expect(isId(text)).toBe(new RegExp($defs.id.pattern, 'u').test(text));
        expect(parseVariantAddress(text) !== null).toBe(
          new RegExp($defs.variantAddress.pattern, 'u').test(text),
        );
        for (const full of [text, `${text}@B`, `${text}@I`])
          expect(parseRevisionAddress(full) !== null).toBe(
            new RegExp(derivation.$defs.revisionAddress.pattern, 'u').test(full),
          );
      }),
      { numRuns: 1000 },
    );
  });
});
