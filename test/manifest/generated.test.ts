import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { documentKinds, readDocument, schemaFiles } from '@kinprint/manifest';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { addDateFormat } from '../support/date-format.ts';
import { roleSlugs } from '../support/credit-roles.ts';
import { samples } from './samples.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));

describe('what is generated from the schemas', () => {
  it('is what generating it again gives', () => {
    const folder = mkdtempSync(path.join(tmpdir(), 'kinprint-generated-'));
    try {
      execFileSync(process.execPath, [path.join(root, 'tools/generate.mjs'), '--to', folder], {
        cwd: tmpdir(),
      });
      const committed = path.join(root, 'packages/manifest/src/generated');
      const files = readdirSync(folder).sort();
      expect(files).toEqual(readdirSync(committed).sort());
      for (const file of files)
        expect(
          readFileSync(path.join(folder, file), 'utf8') === readFileSync(path.join(committed, file), 'utf8'),
          file,
        ).toBe(true);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });

  it('judges as a validator does that is made from the schema files of a registry', () => {
    for (const kind of documentKinds) {
      // Strict: unknown keywords and references that lead nowhere are errors.
      const ajv = new Ajv2020({ strict: true, strictTypes: false, strictRequired: false });
      addDateFormat(ajv);
      const validate = ajv.compile(JSON.parse(schemaFiles[`${kind}.schema.json`] ?? '') as object);
      const { good, bad } = samples[kind];
      for (const text of good) {
        expect(validate(parse(text)), text).toBe(true);
        expect(readDocument(kind, text, 'x.yaml').problems, text).toEqual([]);
      }
      for (const text of bad) {
        expect(validate(parse(text)), text).toBe(false);
        expect(readDocument(kind, text, 'x.yaml').value, text).toBeNull();
      }
    }
  });

  it('knows exactly the contributor roles of ANSI/NISO Z39.104-2022', () => {
    const slugs = roleSlugs();
    expect(slugs).toHaveLength(14);
    const author = (role: string): string =>
      `kinprint: variant/1\ntitle: T\nparts: []\nauthors:\n  - name: A\n    roles: [${role}]\n`;
    for (const slug of slugs)
      expect(readDocument('variant', author(slug), 'x.yaml').problems, slug).toEqual([]);
    const schema = JSON.parse(schemaFiles['variant.schema.json'] ?? '') as {
      readonly $defs: { readonly role: { readonly anyOf: readonly { readonly enum?: readonly string[] }[] } };
    };
    expect([...(schema.$defs.role.anyOf[0]?.enum ?? [])].sort()).toEqual([...slugs].sort());
    for (const bad of ['design', 'Software', 'x-', 'x-Own', 'xown'])
      expect(readDocument('variant', author(bad), 'x.yaml').problems[0]?.code, bad).toBe('unknown-value');
    expect(readDocument('variant', author('x-print-testing'), 'x.yaml').problems).toEqual([]);
  });
});
