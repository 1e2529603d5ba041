import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { credits, type Relation } from '@kinprint/license';
import type { Bill, BillFile, BillRevision } from '@kinprint/registry';
import { billCycloneDx, billSpdx, reusePlan } from '@kinprint/report';
import { plateWithHoles } from '../../packages/mesh/src/testing/plate.ts';
import { smallRegistry } from '../../packages/registry/src/testing/small-registry.ts';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { recordByHand } from '../check/support.ts';
import { publishedObjections } from '../support/published-schemas.ts';
import { runCli } from '../support/run-cli.ts';
import { objections } from '../support/schemas.ts';
import type { CycloneDx, Spdx } from './shapes.ts';

afterAll(removeTemporaryFolders);
const mesh = plateWithHoles(40, 20, 5, [{ x: 8, y: 6, r: 1.5, sides: 32 }]);

/** A registry with one variant `cuff/left`, whose manifest has the lines. */
function registryWith(head: string, part = ''): ReturnType<typeof smallRegistry> {
  const registry = smallRegistry();
  registry.write('devices/cuff/left/parts/shell.stl', mesh);
  registry.write(
    'devices/cuff/left/variant.yaml',
    `kinprint: variant/1\n${head}parts:\n  - id: shell\n    mesh: parts/shell.stl\n${part}`,
  );
  return registry;
}

async function spdxOf(folder: string, ...more: string[]): Promise<Spdx> {
  const { code, out, err } = await runCli(['credits', 'cuff/left', '--format', 'spdx', ...more], folder);
  expect([code, err]).toEqual([0, '']);
  const spdx = JSON.parse(out) as Spdx;
  expect(publishedObjections('spdx', spdx)).toEqual([]);
  return spdx;
}

const reuse = (folder: string, target: string, ...more: string[]) =>
  runCli(['credits', 'cuff/left', '--format', 'reuse', '--output', target, ...more], folder);

describe('documents of odd manifests', () => {
  it('need a date where nothing is recorded, and take one', { timeout: 30_000 }, async () => {
    const { folder } = registryWith('title: Cuff\nlicense: MIT\nauthors:\n  - name: Robin Sample\n');
    const refused = await runCli(['credits', 'cuff/left', '--format', 'spdx'], folder);
    expect([refused.code, refused.out]).toEqual([2, '']);
    expect(refused.err).toContain('--date 2026-03-14');
    const { creationInfo, packages } = await spdxOf(folder, '--date', '2026-03-14');
    expect([creationInfo.created, packages[0].versionInfo]).toEqual(['2026-03-14T00:00:00Z', undefined]);
    const wrong = await runCli(['credits', 'cuff/left', '--format', 'spdx', '--date', '2026-02-30'], folder);
    expect(wrong.code).toBe(2);
  });

  it(
    'assert no license where none is stated, and tell the words that are none',
    { timeout: 30_000 },
    async () => {
      const none = await spdxOf(registryWith('title: Cuff\n').folder, '--date', '2026-03-14');
      expect(none.packages[0]).toMatchObject({ licenseDeclared: 'NONE', copyrightText: 'NOASSERTION' });
      const { folder } = registryWith('title: Cuff\nlicense: DocumentRef-a:LicenseRef-b\n');
      const [main] = (await spdxOf(folder, '--date', '2026-03-14')).packages;
      expect(main).toMatchObject({ licenseDeclared: 'NOASSERTION', licenseConcluded: 'NOASSERTION' });
      expect(main.licenseComments).toContain("'DocumentRef-a:LicenseRef-b'");
      const bom = await runCli(
        ['credits', 'cuff/left', '--format', 'cyclonedx', '--date', '2026-03-14'],
        folder,
      );
      const { metadata } = JSON.parse(bom.out) as CycloneDx;
      expect(publishedObjections('cyclonedx', JSON.parse(bom.out))).toEqual([]);
      expect(metadata.component.licenses).toMatchObject([
        { license: { name: 'DocumentRef-a:LicenseRef-b' } },
      ]);
    },
  );

  it('conclude nothing of a license that the audit objects to', { timeout: 30_000 }, async () => {
    const registry = registryWith('title: Cuff\nlicense: CC-BY-SA-4.0\nauthors:\n  - name: Robin Sample\n');
    await recordByHand(registry.folder, 'cuff/left', 'A');
    registry.write('devices/cuff/right/parts/shell.stl', plateWithHoles(44, 20, 5, []));
    registry.write(
      'devices/cuff/right/variant.yaml',
      'kinprint: variant/1\ntitle: Right\nlicense: MIT\nauthors:\n  - name: Robin Sample\nderivations:\n  - from: cuff/left@A\n    relation: remix\n    changes: Wider.\nparts:\n  - id: shell\n    mesh: parts/shell.stl\n',
    );
    const { out } = await runCli(['credits', 'cuff/right', '--format', 'spdx'], registry.folder);
    const spdx = JSON.parse(out) as Spdx;
    expect(publishedObjections('spdx', spdx)).toEqual([]);
    expect(spdx.packages[0]).toMatchObject({ licenseDeclared: 'MIT', licenseConcluded: 'NOASSERTION' });
    expect(spdx.packages[0].licenseComments).toContain('share-alike');
    expect(spdx.packages[1]).toMatchObject({ licenseConcluded: 'CC-BY-SA-4.0' });
    // Not recorded: the document bears the date of the newest letter that it came from.
    expect(spdx.creationInfo.created).toBe('2026-03-14T00:00:00Z');
  });

  it('carry the text of a license of their own', { timeout: 30_000 }, async () => {
    const registry = registryWith(
      'title: Cuff\nlicense: LicenseRef-Group-1.0\nauthors:\n  - name: Robin Sample\n',
    );
    const lacking = await spdxOf(registry.folder, '--date', '2026-03-14');
    expect(lacking.hasExtractedLicensingInfos?.[0].extractedText).toContain('does not hold its text');
    const missing = path.join(registry.folder, 'out-1');
    const first = await reuse(registry.folder, missing);
    expect([first.code, first.err]).toEqual([1, '']);
    expect(first.out.replace(/\s+/g, ' ')).toContain(
      'No text of LicenseRef-Group-1.0 is at hand. Ask its authors for it.',
    );
    registry.write('devices/cuff/left/LICENSES/LicenseRef-Group-1.0.txt', 'You may print it.\n');
    const spdx = await spdxOf(registry.folder, '--date', '2026-03-14');
    expect(spdx.hasExtractedLicensingInfos).toMatchObject([
      { licenseId: 'LicenseRef-Group-1.0', extractedText: 'You may print it.\n' },
    ]);
    expect((await reuse(registry.folder, path.join(registry.folder, 'out-2'))).code).toBe(0);
  });

  it('list the files of a revision only when all of them can be read', { timeout: 30_000 }, async () => {
    const registry = registryWith('title: Cuff\nlicense: MIT\nauthors:\n  - name: Robin Sample\n');
    // A pointer to a large file that was not fetched (git LFS specification, version 1).
    registry.write(
      'devices/cuff/left/parts/big.stl',
      `version https://git-lfs.github.com/spec/v1\noid sha256:${'0'.repeat(64)}\nsize 123456\n`,
    );
    const spdx = await spdxOf(registry.folder, '--date', '2026-03-14');
    // Clause 7.8: without files, no verification code.
    expect([spdx.files, spdx.packages[0].filesAnalyzed, spdx.packages[0].packageVerificationCode]).toEqual([
      [],
      false,
      undefined,
    ]);
    expect(spdx.packages[0].comment).toContain('parts/big.stl');
    const { code, err } = await reuse(registry.folder, path.join(registry.folder, 'out'));
    expect(code).toBe(2);
    expect(err).toContain('parts/big.stl');
    expect(
      readdirSync(registry.folder).filter(name => name.includes('out') || name.startsWith('.kinprint')),
    ).toEqual([]);
  });
});

describe('REUSE folders', () => {
  const plain = 'title: Cuff\nlicense: MIT\nauthors:\n  - name: Robin Sample\n';

  it('overwrite nothing, and do not lie among the content of the registry', { timeout: 30_000 }, async () => {
    const { folder } = registryWith(plain);
    const taken = path.join(folder, 'taken');
    mkdirSync(taken);
    writeFileSync(path.join(taken, 'mine.txt'), 'mine');
    for (const [target, code] of [
      ['taken', 'nothing is overwritten'],
      ['taken/mine.txt', 'nothing is overwritten'],
      ['devices/cuff/out', 'among the content of the registry'],
      ['nowhere/deep', 'ENOENT'],
    ] as const) {
      const outcome = await reuse(folder, target);
      expect([outcome.code, outcome.out], target).toEqual([2, '']);
      expect(outcome.err.replace(/\s+/g, ' '), target).toContain(code);
    }
    expect(readFileSync(path.join(taken, 'mine.txt'), 'utf8')).toBe('mine');
    expect(readdirSync(taken)).toEqual(['mine.txt']);
    mkdirSync(path.join(folder, 'empty'));
    expect((await reuse(folder, 'empty')).code).toBe(0);
    const without = await runCli(['credits', 'cuff/left', '--format', 'reuse'], folder);
    expect([without.code, without.out]).toEqual([2, '']);
  });

  it(
    "keep the revision's own notices, and name texts that are not packaged",
    { timeout: 30_000 },
    async () => {
      const registry = registryWith(plain.replace('MIT', 'Apache-2.0 WITH SHL-2.1'));
      const own = 'SPDX-FileCopyrightText: 2020 Kim Example\n\nSPDX-License-Identifier: Apache-2.0\n';
      registry.write('devices/cuff/left/parts/shell.stl.license', own);
      registry.write('devices/cuff/left/LICENSE', 'See LICENSES.');
      registry.write('devices/cuff/left/empty.txt', '');
      const target = path.join(registry.folder, 'out');
      const { code, out } = await reuse(registry.folder, target, '--json');
      const report = JSON.parse(out) as { written: string[]; missing: string[]; problems: string[] };
      expect([code, objections('credits-reuse', report)]).toEqual([1, []]);
      expect(readFileSync(path.join(target, 'parts/shell.stl.license'), 'utf8')).toBe(own);
      // Neither license texts nor empty files are covered (REUSE 3.3, "Covered files").
      expect(report.written.sort()).toEqual([
        'ATTRIBUTION.txt',
        'ATTRIBUTION.txt.license',
        'LICENSES/Apache-2.0.txt',
        'variant.yaml.license',
      ]);
      expect(report.missing).toEqual(['SHL-2.1']);
      const again = path.join(registry.folder, 'again');
      const { out: text } = await reuse(registry.folder, again);
      for (const line of text.split('\n').filter(each => each.includes(' ')))
        expect([...line].length, line).toBeLessThanOrEqual(80);
      expect(text).toContain('https://spdx.org/licenses/SHL-2.1.html');
    },
  );

  it(
    'tell of license texts that no file is under, which REUSE does not allow',
    { timeout: 30_000 },
    async () => {
      const registry = registryWith(plain);
      registry.write('devices/cuff/left/LICENSES/CC0-1.0.txt', 'Text.');
      registry.write('devices/cuff/left/LICENSES/MIT.txt', 'Their copy.');
      const target = path.join(registry.folder, 'out');
      const { code, out } = await reuse(registry.folder, target);
      expect(code).toBe(1);
      expect(out).toContain('LICENSES/CC0-1.0.txt is the text of a license that no file is under.');
      expect(readFileSync(path.join(target, 'LICENSES/MIT.txt'), 'utf8')).toBe('Their copy.');
    },
  );

  it('say so where nobody is named or no license is stated', { timeout: 30_000 }, async () => {
    const { folder } = registryWith('title: Cuff\n');
    const { code, out } = await reuse(folder, path.join(folder, 'out'));
    expect(code).toBe(1);
    expect(out).toContain('No license is stated for parts/shell.stl.');
    expect(out).toContain('Nobody is named as author of parts/shell.stl.');
  });
});

const nasty = fc.oneof(
  fc.string({ unit: 'binary', minLength: 1, maxLength: 40 }),
  fc.constantFrom(
    '\u202egnp.evil\u202c',
    'SPDX-License-Identifier: MIT',
    'x\nSPDX-License-Identifier: MIT',
    'REUSE-IgnoreStart',
    '\u001b[2J\u0007',
    '"}],"packages":[',
    '</script><script>',
    '\ud800',
    'a'.repeat(5_000),
    '__proto__',
  ),
);
const license = fc.constantFrom(
  null,
  'MIT',
  'CC-BY-SA-4.0',
  'MIT OR CC0-1.0',
  'GPL-2.0+',
  'LicenseRef-x.1',
  'no license',
  'Apache-2.0 WITH LLVM-exception',
  'DocumentRef-a:LicenseRef-b',
);
const author = fc.record({
  name: nasty,
  url: fc.constantFrom(null, 'https://example.org/a', 'javascript:alert(1)'),
});
const hex = (length: number) =>
  fc.string({ unit: fc.constantFrom(...'0123456789abcdef'), minLength: length, maxLength: length });
const file: fc.Arbitrary<BillFile> = fc.record({
  path: nasty,
  size: fc.nat(),
  sha256: hex(64),
  sha1: hex(40),
  parts: fc.constantFrom([], ['shell'], ['shell', 'leaf']),
});
const revision = (id: string): fc.Arbitrary<BillRevision> =>
  fc.record({
    id: fc.constant(id),
    address: fc.constant(id.split('@')[0]),
    letter: fc.constantFrom(null, 'A'),
    title: nasty,
    summary: fc.option(nasty),
    license,
    authors: fc.array(author, { maxLength: 3 }),
    parts: fc.array(
      fc.record({
        id: fc.constantFrom('shell', 'leaf'),
        license,
        authors: fc.option(fc.array(author, { maxLength: 2 })),
        mesh: nasty,
        sources: fc.array(nasty, { maxLength: 2 }),
      }),
      { maxLength: 2 },
    ),
    objections: fc.constantFrom([], ['share-alike' as const]),
    date: fc.constantFrom(null, '2025-03-18'),
    digest: fc.constantFrom(null, `sha256:${'a'.repeat(64)}`),
    url: fc.constantFrom(null, 'https://example.org/cuffs', 'javascript:alert(1)', 'https://example.org/#x'),
    known: fc.boolean(),
    guessed: fc.boolean(),
    folder: fc.constantFrom(null, 'devices/cuff/left'),
    commit: fc.constantFrom(null, 'a'.repeat(40)),
    files: fc.option(fc.uniqueArray(file, { maxLength: 4, selector: each => each.path })),
    verification_code: fc.constant(null),
    files_problem: fc.option(nasty),
    own_texts: fc.constantFrom({}, { 'LicenseRef-x.1': 'You may.' }),
  });

const ids = ['cuff/left@A', 'cuff/left', 'far:cuff/left@A', 'cuff-left@A'];
const relations: readonly Relation[] = ['revision', 'copy', 'mirror', 'rescale', 'remix', 'combination'];
/** Ids that come out alike as SPDX identifiers among them, and any links, circles too. */
const bill: fc.Arbitrary<Bill> = fc.record({
  registry: nasty,
  revisions: fc.tuple(revision(ids[0]), revision(ids[1]), revision(ids[2]), revision(ids[3])),
  links: fc.array(
    fc.record({
      from: fc.constantFrom(...ids),
      to: fc.constantFrom(...ids),
      relation: fc.constantFrom(...relations),
      changes: fc.option(nasty),
    }),
    { maxLength: 6 },
  ),
});

function creditsOf({ revisions, links }: Bill) {
  const works = revisions.map(({ id, title, license: of, authors, known, date }) => ({
    id,
    title,
    license: of,
    authors,
    parts: [],
    known,
    date,
    url: null,
  }));
  return credits({ works, descents: links }, ids[0]);
}

describe('documents of whatever people write (property)', () => {
  it(
    'keep to their schemas, have unique ids and whole links, and come out the same again',
    { timeout: 120_000 },
    async () => {
      await fc.assert(
        fc.asyncProperty(bill, async given => {
          const about = { credits: creditsOf(given), date: '2026-03-14', version: '0.1.0' };
          const spdx = JSON.parse(JSON.stringify(await billSpdx(given, about))) as Spdx;
          expect(publishedObjections('spdx', spdx)).toEqual([]);
          const known = [spdx.SPDXID, ...spdx.packages.map(p => p.SPDXID), ...spdx.files.map(f => f.SPDXID)];
          expect(new Set(known).size).toBe(known.length);
          for (const link of spdx.relationships)
            expect([known.includes(link.spdxElementId), known.includes(link.relatedSpdxElement)]).toEqual([
              true,
              true,
            ]);
          // Every LicenseRef that is named is defined (clause 10.1).
          const named = new Set(
            [...spdx.packages, ...spdx.files].flatMap(
              each => each.licenseConcluded.match(/LicenseRef-[A-Za-z0-9.-]+/g) ?? [],
            ),
          );
          const defined = new Set((spdx.hasExtractedLicensingInfos ?? []).map(each => each.licenseId));
          for (const id of named) expect(defined).toContain(id);
          for (const each of spdx.packages)
            expect(each.downloadLocation).toMatch(/^(NOASSERTION$|git\+https:)/);
          const bom = JSON.parse(JSON.stringify(await billCycloneDx(given, about))) as CycloneDx;
          expect(publishedObjections('cyclonedx', bom)).toEqual([]);
          expect(JSON.stringify(await billSpdx(given, about))).toBe(JSON.stringify(spdx));
        }),
        { numRuns: 60 },
      );
    },
  );

  it('name nothing but names where REUSE looks for tags', () => {
    fc.assert(
      fc.property(bill, given => {
        for (const { path: file, text } of reusePlan(given, creditsOf(given)).texts.filter(each =>
          each.path.endsWith('.license'),
        )) {
          const lines = text.split('\n');
          const tags = lines.filter(line => /SPDX-License-Identifier|REUSE-Ignore/i.test(line));
          expect(tags.length, file).toBeLessThanOrEqual(1);
          for (const line of lines)
            expect(line).toMatch(
              /^(|SPDX-FileCopyrightText: (?!.*(SPDX|REUSE)-\w).*|SPDX-License-Identifier: [A-Za-z0-9.+() -]+)$/u,
            );

          expect(text).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u202a-\u202e]/);
        }
      }),
    );
  });
});
