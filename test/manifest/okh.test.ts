import { execFileSync, spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import {
  ManifestError,
  okhManifest,
  type DeviceDocument,
  type OkhContext,
  type VariantDocument,
} from '@kinprint/manifest';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';

// Open Know-How: facts of the published standard; see test/reference/manifest/NOTICE.md.
const reference = parse(
  readFileSync(new URL('../reference/manifest/open-know-how.yaml', import.meta.url), 'utf8'),
) as {
  readonly fields: readonly { key: string; required_by_prose: boolean; required_by_schema: boolean }[];
};
const keys = new Set(reference.fields.flatMap(field => field.key.split(', ')));
const required = reference.fields
  .filter(field => field.required_by_prose || field.required_by_schema)
  .map(field => field.key);

const device: DeviceDocument = {
  kinprint: 'device/1',
  title: 'Utensil cuff',
  purpose: 'Holds a spoon for a hand\nwith "weak" grip.',
};
const context: OkhContext = {
  device,
  folder: 'devices/cuff/small',
  repo: 'https://example.org/cuffs',
  version: 'B',
  language: 'en',
  sizes_mm: new Map([['shell', [40.5, 20, 1e-7]]]),
};
const variant: VariantDocument = {
  kinprint: 'variant/1',
  title: 'Small',
  license: 'CC-BY-SA-4.0',
  authors: [{ name: 'Ann Example' }, { name: 'Ben Example' }],
  parts: [
    { id: 'shell', mesh: 'parts/shell.stl', source: ['source/cuff.scad'], material: 'petg' },
    {
      id: 'strap',
      title: 'Soft strap',
      mesh: 'parts/strap.stl',
      source: ['source/cuff.scad'],
      material: 'petg',
    },
  ],
  hardware: [{ id: 'screw', title: 'Screw', quantity: 2 }],
};

/** The reader of Python's standard library: TOML 1.0, written by others. */
const hasReader = spawnSync('python3', ['-c', 'import tomllib']).status === 0;
function readToml(text: string): unknown {
  const program =
    'import json, sys, tomllib; json.dump(tomllib.loads(sys.stdin.buffer.read().decode()), sys.stdout)';
  return JSON.parse(execFileSync('python3', ['-c', program], { input: text, encoding: 'utf8' }));
}
const isPath = (value: unknown): boolean =>
  typeof value === 'string' && /^(\/(?!\/)|https?:\/\/)/.test(value) && !/(^|\/)\.\.(\/|$)/.test(value);

describe('a variant as an Open Know-How manifest', () => {
  it('is written so (TOML 1.0, what is not known left out)', () => {
    const { authors, hardware: _, ...rest } = variant;
    const text = okhManifest(
      { ...rest, authors: authors?.slice(0, 1) ?? [], parts: variant.parts.slice(0, 1) },
      context,
    );
    expect(text).toBe(`# Open Know-How manifest; the version label follows the newer template of the standard.
okhv = "2.4"
name = "Utensil cuff: Small"
repo = "https://example.org/cuffs"
version = "B"
license = "CC-BY-SA-4.0"
licensor = "Ann Example"
function = "Holds a spoon for a hand\\nwith \\"weak\\" grip."
documentation-language = "en"
tsdc = ["3DP"]
material = "petg"
source = ["/devices/cuff/small/source/cuff.scad"]
export = ["/devices/cuff/small/parts/shell.stl"]

[[part]]
name = "shell"
source = ["/devices/cuff/small/source/cuff.scad"]
export = ["/devices/cuff/small/parts/shell.stl"]
tsdc = ["3DP"]

[part.outer-dimensions]
width = 40.5
depth = 20
height = 1e-7
`);
  });

  it.skipIf(!hasReader)('has the keys, types and paths that the standard asks for', () => {
    const manifest = readToml(okhManifest(variant, context)) as Record<string, unknown>;
    expect(required.length).toBe(8);
    for (const key of required) expect(manifest, key).toHaveProperty([key]);
    for (const key of Object.keys(manifest)) expect(keys.has(key), key).toBe(true);
    for (const key of [
      'okhv',
      'name',
      'repo',
      'version',
      'license',
      'function',
      'documentation-language',
      'material',
    ])
      expect(typeof manifest[key], key).toBe('string');
    expect(['2.4', 'OKH-LOSHv1.0', 'OKHv1.0']).toContain(manifest['okhv']);
    expect(manifest['repo']).toMatch(/^https?:/);
    expect(manifest['licensor']).toEqual(['Ann Example', 'Ben Example']);
    const paths = [
      manifest['bom'],
      ...(manifest['source'] as unknown[]),
      ...(manifest['export'] as unknown[]),
    ];
    expect(paths).toHaveLength(4);
    expect(paths.every(isPath)).toBe(true);
    const parts = manifest['part'] as Record<string, unknown>[];
    expect(parts.map(part => part['name'])).toEqual(['shell', 'Soft strap']);
    for (const part of parts) {
      // Specification: name and source. Schema: name and source or export.
      expect((part['source'] as unknown[]).every(isPath) && (part['export'] as unknown[]).every(isPath)).toBe(
        true,
      );
      for (const key of Object.keys(part))
        expect([
          'name',
          'source',
          'image',
          'tsdc',
          'export',
          'auxiliary',
          'mass',
          'outer-dimensions',
        ]).toContain(key);
    }
    expect(parts[0]?.['outer-dimensions']).toEqual({ width: 40.5, depth: 20, height: 1e-7 });
  });

  it.skipIf(!hasReader)('gives back any text that a manifest can hold', () => {
    const texts = fc.sample(fc.string({ unit: 'binary', minLength: 1, maxLength: 30 }), 300);
    texts.push('"""', "'''", '\\', '\u007f', '\u0000', 'a\r\nb', '\u2028', '😂', '[[part]]\nokhv = 1');
    const parts = texts.map((title, i) => ({ id: `p${i}`, title, mesh: 'm.stl' }));
    const manifest = readToml(okhManifest({ ...variant, parts }, context)) as { part: { name: string }[] };
    expect(manifest.part.map(part => part.name)).toEqual(
      texts.map(text => text.replace(/\p{Surrogate}/gu, '\uFFFD')),
    );
  });

  it('takes license and licensor from the registry where the variant has none', () => {
    const { license: _, authors: __, ...bare } = variant;
    const text = okhManifest(bare, { ...context, license: 'MIT', maintainers: [{ name: 'Cuff group' }] });
    expect(text).toContain('license = "MIT"\nlicensor = "Cuff group"\n');
    expect(okhManifest(bare, { ...context, maintainers: [{ name: 'Cuff group' }] })).toContain(
      'license = "LicenseRef-AllRightsReserved"\n',
    );
  });

  it('is refused where the standard asks for what is not known', () => {
    const { authors: _, ...bare } = variant;
    expect(() => okhManifest(bare, context)).toThrow(ManifestError);
    expect(() => okhManifest(variant, { ...context, repo: '../cuffs' })).toThrow(ManifestError);
    expect(() => okhManifest(variant, { ...context, version: '' })).toThrow(ManifestError);
  });
});
