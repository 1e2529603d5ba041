/// <reference types="../../packages/manifest/src/license/spdx-expression-parse.d.ts" />
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import parse from 'spdx-expression-parse';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoRegistry } from '../support/demo-registry.ts';
import { publishedObjections } from '../support/published-schemas.ts';
import { runCli } from '../support/run-cli.ts';
import { objections } from '../support/schemas.ts';
import type { CycloneDx, Spdx } from './shapes.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'kinprint-documents-'));
const demo = path.join(folder, 'registry');
let variants: string[] = [];
beforeAll(async () => {
  await demoRegistry(demo);
  variants = ['utensil-cuff', 'pen-cuff'].flatMap(device =>
    readdirSync(path.join(demo, 'devices', device), { withFileTypes: true })
      .filter(entry => entry.isDirectory())
      .map(entry => `${device}/${entry.name}`),
  );
}, 180_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function document<T>(variant: string, format: string, registry = demo): Promise<T> {
  const { code, out, err } = await runCli(['credits', variant, '--format', format], registry);
  expect([code, err], variant).toEqual([0, '']);
  return JSON.parse(out) as T;
}

/** The hashes of a file as the tools of the system compute them, from outside. */
const summed = (tool: string, file: string): string =>
  execFileSync(tool, [file], { encoding: 'utf8' }).replace(/^\\?([0-9a-f]+) [\s\S]*$/, '$1');

describe('SPDX 2.3 of every variant of the demo', () => {
  it(
    'keeps to the published schema, and to what the clauses ask beyond it',
    { timeout: 120_000 },
    async () => {
      expect(variants.length).toBeGreaterThanOrEqual(10);
      for (const variant of variants) {
        const spdx = await document<Spdx>(variant, 'spdx');
        expect(publishedObjections('spdx', spdx), variant).toEqual([]);
        const ids = [spdx.SPDXID, ...spdx.packages.map(p => p.SPDXID), ...spdx.files.map(f => f.SPDXID)];
        expect(new Set(ids).size).toBe(ids.length);
        // Clause 6.5: a URI without '#'.
        expect(spdx.documentNamespace).toMatch(/^urn:uuid:[0-9a-f-]{36}$/);
        for (const { spdxElementId, relatedSpdxElement } of spdx.relationships)
          expect([ids.includes(spdxElementId), ids.includes(relatedSpdxElement)]).toEqual([true, true]);
        const of = (type: string) => spdx.relationships.filter(r => r.relationshipType === type);
        expect(of('DESCRIBES').map(r => r.relatedSpdxElement)).toEqual([spdx.packages[0].SPDXID]);
        expect(
          of('CONTAINS')
            .map(r => r.relatedSpdxElement)
            .sort(),
        ).toEqual(spdx.files.map(f => f.SPDXID).sort());
        for (const file of spdx.files) {
          // Clause 8.4: SHA1 is mandatory; clause 8.1: names are relative.
          expect(file.checksums.map(sum => sum.algorithm)).toEqual(['SHA1', 'SHA256']);
          expect(file.fileName).toMatch(/^\.\/[^/]/);
          // Clause 8.5: NOASSERTION where the audit objects to what the manifest says.
          if (file.licenseConcluded !== 'NOASSERTION')
            expect(() => parse(file.licenseConcluded), file.licenseConcluded).not.toThrow();
        }
        for (const each of spdx.packages) {
          const inside = new Set(
            of('CONTAINS')
              .filter(r => r.spdxElementId === each.SPDXID)
              .map(r => r.relatedSpdxElement),
          );
          const sums = spdx.files.filter(f => inside.has(f.SPDXID)).map(f => f.checksums[0].checksumValue);
          // Clause 7.9: SHA1 of the sorted SHA1s, one after another.
          const code = createHash('sha1').update(sums.sort().join('')).digest('hex');
          expect(each.filesAnalyzed).toBe(true);
          expect(each.packageVerificationCode?.packageVerificationCodeValue).toBe(code);
          expect(() => parse(each.licenseDeclared)).not.toThrow();
        }
      }
    },
  );

  it(
    'names every file of the folder, with the hashes that the tools of the system compute',
    { timeout: 60_000 },
    async () => {
      const variant = 'utensil-cuff/right-58-rib-quick';
      const spdx = await document<Spdx>(variant, 'spdx');
      const cyclonedx = await document<CycloneDx>(variant, 'cyclonedx');
      const root = path.join(demo, 'devices', variant);
      const files = readdirSync(root, { recursive: true, encoding: 'utf8' }).filter(file =>
        statSync(path.join(root, file)).isFile(),
      );
      const own = new Set(
        spdx.relationships
          .filter(r => r.relationshipType === 'CONTAINS' && r.spdxElementId === spdx.packages[0].SPDXID)
          .map(r => r.relatedSpdxElement),
      );
      const listed = spdx.files.filter(file => own.has(file.SPDXID));
      expect(listed.map(file => file.fileName).sort()).toEqual(files.map(file => `./${file}`).sort());
      for (const { fileName, checksums } of listed) {
        const [sha1, sha256] = ['sha1sum', 'sha256sum'].map(tool => summed(tool, path.join(root, fileName)));
        expect(checksums.map(sum => sum.checksumValue)).toEqual([sha1, sha256]);
        const component = cyclonedx.metadata.component.components?.find(
          file => `./${file.name}` === fileName,
        );
        expect(component?.hashes).toEqual([{ alg: 'SHA-256', content: sha256 }]);
      }
    },
  );

  it(
    'tells the lineage: what came from what, under which license, with whose names',
    { timeout: 60_000 },
    async () => {
      const spdx = await document<Spdx>('utensil-cuff/left-58-rib-quick', 'spdx');
      const name = new Map(spdx.packages.map(p => [p.SPDXID, `${p.name}@${p.versionInfo ?? ''}`]));
      const descends = spdx.relationships
        .filter(r => r.relationshipType === 'DESCENDANT_OF')
        .map(
          r =>
            `${name.get(r.spdxElementId) ?? ''} ${(r.comment ?? '').split(':')[0]} ${name.get(r.relatedSpdxElement) ?? ''}`,
        );
      expect(descends).toEqual(
        expect.arrayContaining([
          'utensil-cuff/left-58-rib-quick@A mirror utensil-cuff/right-58-rib-quick@A',
          'utensil-cuff/right-58-rib-quick@A combination utensil-cuff/right-58-rib@B',
          'utensil-cuff/right-58-rib-quick@A combination utensil-cuff/right-58-quick-strap@A',
          'utensil-cuff/right-58-rib@B revision utensil-cuff/right-58-rib@A',
          'utensil-cuff/right-58-rib@A remix utensil-cuff/right-58@B',
        ]),
      );
      const [main] = spdx.packages;
      expect(main).toMatchObject({ licenseDeclared: 'CC-BY-SA-4.0 AND CC0-1.0' });
      for (const author of ['Mira Oakfield', 'Jonah Pellbrook', 'Teo Lindqvale', 'Sanna Brightmoor'])
        expect(main.attributionTexts?.join('\n')).toContain(author);
      // The pad is under a license of its own.
      const pad = spdx.files.find(file => file.fileName === './parts/pad.3mf');
      expect(pad?.licenseConcluded).toBe('CC0-1.0');
      // The mesh of the shell, and the model that its manifest says it was made from.
      const made = spdx.relationships.filter(r => r.relationshipType === 'GENERATED_FROM');
      const file = new Map(spdx.files.map(f => [f.SPDXID, f.fileName]));
      expect(made.map(r => [file.get(r.spdxElementId), file.get(r.relatedSpdxElement)])).toContainEqual([
        './parts/shell.stl',
        './source/shell.txt',
      ]);
      // Nobody who ran the program, and no clock, is in it.
      expect(spdx.creationInfo).toMatchObject({
        created: '2025-03-18T00:00:00Z',
        creators: ['Tool: kinprint-0.1.0'],
      });
    },
  );
});

describe('CycloneDX 1.6 of every variant of the demo', () => {
  it('keeps to the published schema, with the lineage as its pedigree', { timeout: 120_000 }, async () => {
    for (const variant of variants) {
      const bom = await document<CycloneDx>(variant, 'cyclonedx');
      expect(publishedObjections('cyclonedx', bom), variant).toEqual([]);
      const { component } = bom.metadata;
      const spdx = await document<Spdx>(variant, 'spdx');
      const all = [component, ...(component.pedigree?.ancestors ?? [])];
      expect(all.map(each => `${each.name}@${each.version ?? ''}`)).toEqual(
        spdx.packages.map(p => `${p.name}@${p.versionInfo ?? ''}`),
      );
      expect(all.map(each => each.licenses?.map(l => l.expression))).toEqual(
        spdx.packages.map(p => [p.licenseDeclared]),
      );
      const references = all.flatMap(each => [
        each['bom-ref'],
        ...(each.components ?? []).map(file => file['bom-ref']),
      ]);
      expect(new Set(references).size).toBe(references.length);
    }
  });
});

describe('documents', () => {
  it(
    'are the same bytes in another clone, in another folder, without a cache',
    { timeout: 120_000 },
    async () => {
      const clone = path.join(folder, 'clone');
      execFileSync('git', ['clone', '-q', '--no-hardlinks', demo, clone]);
      // A clone knows where it came from; here that is no web address, so nothing changes.
      for (const format of ['spdx', 'cyclonedx']) {
        const [a, b] = await Promise.all(
          [demo, clone].map(registry =>
            runCli(['credits', 'utensil-cuff/left-62', '--format', format], registry),
          ),
        );
        expect(a.out).toBe(b.out);
        expect(a.out.length).toBeGreaterThan(1000);
        const later = await runCli(
          ['credits', 'utensil-cuff/left-62', '--format', format, '--date', '2031-01-02'],
          demo,
        );
        expect(later.out).not.toBe(a.out);
        expect(later.out).toContain('"2031-01-02T00:00:00Z"');
      }
    },
  );

  it('of a letter stay the same when the next one is recorded', { timeout: 60_000 }, async () => {
    const clone = path.join(folder, 'growing');
    execFileSync('git', ['clone', '-q', '--no-hardlinks', demo, clone]);
    const args = [
      'credits',
      'utensil-cuff/left-62@A',
      '--repo',
      'https://example.org/group/cuffs',
      '--format',
      'spdx',
    ];
    const before = (await runCli(args, clone)).out;
    expect(before).toMatch(
      /git\+https:\/\/example\.org\/group\/cuffs@[0-9a-f]{40}#devices\/utensil-cuff\/left-62"/,
    );
    // What lies there now is another content: the letter is read from history.
    writeFileSync(path.join(clone, 'devices/utensil-cuff/left-62/notes.txt'), 'More.');
    expect((await runCli(args, clone)).out).toBe(before);
  });

  it(
    'say where the files of a letter can be had, when the registry is published',
    { timeout: 60_000 },
    async () => {
      const args = [
        'credits',
        'utensil-cuff/right-58@A',
        '--format',
        'spdx',
        '--repo',
        'https://example.org/group/cuffs',
      ];
      const { out } = await runCli(args, demo);
      const spdx = JSON.parse(out) as Spdx;
      expect(publishedObjections('spdx', spdx)).toEqual([]);
      const found =
        /^git\+https:\/\/example\.org\/group\/cuffs@([0-9a-f]{40})#(devices\/utensil-cuff\/right-58)$/.exec(
          spdx.packages[0].downloadLocation,
        );
      // git itself finds the manifest there.
      const manifest = execFileSync('git', [
        '-C',
        demo,
        'show',
        `${found?.[1] ?? ''}:${found?.[2] ?? ''}/variant.yaml`,
      ]);
      const [listed] = spdx.files.filter(file => file.fileName === './variant.yaml');
      expect(listed.checksums[1].checksumValue).toBe(createHash('sha256').update(manifest).digest('hex'));
    },
  );
});

describe('REUSE 3.3 of every variant of the demo', () => {
  it(
    'gives every covered file its notice and every license its text, and nothing else',
    { timeout: 120_000 },
    async () => {
      for (const [k, variant] of variants.entries()) {
        const target = path.join(folder, `reuse-${k}`);
        const { code, out, err } = await runCli(
          ['credits', variant, '--format', 'reuse', '--output', target, '--json'],
          demo,
        );
        const report = JSON.parse(out) as { files: string[]; written: string[]; missing: string[] };
        expect([code, err, objections('credits-reuse', report), report.missing]).toEqual([0, '', [], []]);
        const all = readdirSync(target, { recursive: true, encoding: 'utf8' }).filter(file =>
          statSync(path.join(target, file)).isFile(),
        );
        expect(all.sort()).toEqual([...report.files, ...report.written].sort());
        const used = new Set<string>();
        for (const file of all.filter(name => !name.endsWith('.license') && !name.startsWith('LICENSES/'))) {
          const notice = readFileSync(path.join(target, `${file}.license`), 'utf8');
          expect(notice, file).toMatch(/^SPDX-FileCopyrightText: 20\d\d.* \S/m);
          const license = /^SPDX-License-Identifier: (.+)$/m.exec(notice)?.[1] ?? '';
          expect(() => parse(license), file).not.toThrow();
          for (const id of license.match(/[A-Za-z0-9.-]+/g) ?? [])
            if (!['AND', 'OR', 'WITH'].includes(id)) used.add(id);
          if (file !== 'ATTRIBUTION.txt')
            expect(
              readFileSync(path.join(target, file)).equals(
                readFileSync(path.join(demo, 'devices', variant, file)),
              ),
            ).toBe(true);
        }
        expect(readdirSync(path.join(target, 'LICENSES')).sort()).toEqual(
          [...used].sort().map(id => `${id}.txt`),
        );
      }
    },
  );

  it('writes the text that the license has (CC0-1.0, CC-BY-SA-4.0)', () => {
    const folders = variants.map((_, k) => path.join(folder, `reuse-${k}`, 'LICENSES'));
    const text = (id: string): string =>
      readFileSync(
        path.join(folders.find(each => existsSync(path.join(each, `${id}.txt`))) ?? '', `${id}.txt`),
        'utf8',
      ).replace(/\s+/g, ' ');
    // Sentences of the licenses, from memory of their published texts.
    expect(text('CC0-1.0')).toContain(
      'Affirmer hereby overtly, fully, permanently, irrevocably and unconditionally waives',
    );
    expect(text('CC-BY-SA-4.0')).toMatch(
      /indicate if You modified the Licensed Material and retain an indication of any previous modifications/,
    );
  });
});
