import { describe, expect, it } from 'vitest';
import { ManifestError } from '../fault.ts';
import type { VariantDocument } from '../generated/types.ts';
import { readDocument } from '../read/read-document.ts';
import { schemaLine, writeDocument } from './write-document.ts';

const author = { name: 'Ann Example', roles: ['methodology'] } as const;
const variant: VariantDocument = {
  kinprint: 'variant/1',
  title: 'Cuff: small',
  summary: 'A long sentence that goes on. '.repeat(10).trim(),
  authors: [author],
  parts: [
    {
      id: 'shell',
      mesh: 'parts/shell.stl',
      authors: [author],
      interfaces: [{ id: 'hinge', kind: 'bore', at_mm: [1, -2, 0.5] }],
    },
  ],
  cautions: ['Check the skin.\nTake it off at night.'],
};

describe('writing a document', () => {
  it('gives back the value, with the schema for editors in the first line', () => {
    const text = writeDocument('variant', variant);
    expect(text.split('\n')[0]).toBe('# yaml-language-server: $schema=../../../schemas/variant.schema.json');
    expect(readDocument('variant', text, 'v.yaml')).toMatchObject({ value: variant, problems: [] });
    expect(text).not.toMatch(/[&*]a\d/);
    expect(text).toContain('at_mm: [ 1, -2, 0.5 ]');
    expect(Math.max(...text.split('\n').map(line => line.length))).toBeLessThanOrEqual(100);
  });

  it('points from each place of a registry to its schemas folder', () => {
    expect(schemaLine('registry')).toBe('# yaml-language-server: $schema=schemas/registry.schema.json');
    expect(schemaLine('device')).toContain('=../../schemas/');
    expect(schemaLine('advisory')).toContain('=../schemas/');
    expect(schemaLine('signoff')).toContain('=../../../../schemas/');
  });

  it('puts remarks above what they speak of, every line of them a comment', () => {
    const text = writeDocument('variant', variant, {
      '': 'To settle:\nlicense: MIT',
      '/authors': 'Who else?',
      '/parts/0/mesh': 'as found\r\nparts: []',
    });
    expect(text).toContain('# To settle:\n# license: MIT\nkinprint:');
    expect(text).toContain('# Who else?\nauthors:');
    expect(text).toContain('    # as found\n    # parts: []\n    mesh: parts/shell.stl');
    expect(readDocument('variant', text, 'v.yaml').value).toEqual(variant);
    expect(() => writeDocument('variant', variant, { '/nowhere': 'x' })).toThrow(ManifestError);
  });

  it('refuses what does not fit the schema', () => {
    expect(() => writeDocument('variant', { ...variant, title: '' })).toThrow(ManifestError);
  });
});
