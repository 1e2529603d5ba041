import { execFileSync } from 'node:child_process';
import { mkdirSync, readFileSync, renameSync, readdirSync } from 'node:fs';
import path from 'node:path';
import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { auditCodes, type AuditCode } from '@kinprint/license';
import type { RegistryAudit } from '@kinprint/registry';
import { auditSarif } from '@kinprint/report';
import { plateWithHoles } from '../../packages/mesh/src/testing/plate.ts';
import { smallRegistry } from '../../packages/registry/src/testing/small-registry.ts';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { recordByHand } from '../check/support.ts';
import { publishedObjections } from '../support/published-schemas.ts';
import { runCli } from '../support/run-cli.ts';
import { objections } from '../support/schemas.ts';

afterAll(removeTemporaryFolders);
const mesh = plateWithHoles(40, 20, 5, [{ x: 8, y: 6, r: 1.5, sides: 32 }]);
const wider = plateWithHoles(44, 20, 5, [{ x: 8, y: 6, r: 1.5, sides: 32 }]);

interface Parent {
  readonly license?: string;
  readonly name?: string;
}

/** `cuff/left` of Robin as letter A, and `cuff/right` with the manifest given. */
async function planted(
  right: string,
  { license = 'CC-BY-SA-4.0', name = 'Robin Sample' }: Parent = {},
  more = '',
) {
  const registry = smallRegistry(more);
  const parts = 'parts:\n  - id: shell\n    mesh: parts/shell.stl\n';
  const stated = license === '' ? '' : `license: ${license}\n`;
  registry.write('devices/cuff/left/parts/shell.stl', mesh);
  registry.write(
    'devices/cuff/left/variant.yaml',
    `kinprint: variant/1\ntitle: Left\n${stated}authors:\n  - name: ${name}\n${parts}`,
  );
  await recordByHand(registry.folder, 'cuff/left', 'A');
  registry.write('devices/cuff/right/parts/shell.stl', wider);
  registry.write('devices/cuff/right/variant.yaml', `kinprint: variant/1\ntitle: Right\n${right}`);
  return registry;
}

async function audited(folder: string): Promise<RegistryAudit> {
  const { out, err } = await runCli(['audit', 'cuff/right', '--no-shapes', '--json'], folder);
  expect(err).toBe('');
  const report = JSON.parse(out) as RegistryAudit;
  expect(objections('audit', report)).toEqual([]);
  return report;
}

const by = (...names: string[]) => `authors:\n${names.map(name => `  - name: ${name}\n`).join('')}`;
const from = (relation: string, changes: string | null = 'Wider.') =>
  `derivations:\n  - from: cuff/left@A\n    relation: ${relation}\n${changes === null ? '' : `    changes: ${changes}\n`}`;
const parts = 'parts:\n  - id: shell\n    mesh: parts/shell.stl\n';
const robin = by('Robin Sample');

/** A manifest that breaks something, the code, and how the text goes on at the place. */
const cases: readonly [AuditCode, string, string, Parent?, string?][] = [
  ['license-none', `${robin}${parts}`, 'kinprint: variant/1'],
  ['license-out-of-use', `license: GPL-2.0+\n${robin}${parts}`, 'GPL-2.0+'],
  ['license-out-of-use', `license: MIT\n${robin}${parts}    license: GPL-3.0\n`, 'GPL-3.0'],
  [
    'license-forbidden',
    `license: MIT\n${robin}${parts}`,
    'MIT',
    {},
    'policy:\n  licenses:\n    forbid: [MIT]\n',
  ],
  [
    'license-forbidden',
    `license: CC0-1.0\n${robin}${from('remix')}${parts}`,
    'cuff/left@A',
    { license: 'MIT' },
    'policy:\n  licenses:\n    forbid: [MIT]\n',
  ],
  ['share-alike', `license: MIT\n${robin}${from('remix')}${parts}`, 'MIT'],
  ['share-alike', `${robin}${from('remix')}${parts}`, 'MIT', {}, 'license: MIT\n'],
  ['version-not-allowed', `license: CC-BY-SA-3.0\n${robin}${from('remix')}${parts}`, 'CC-BY-SA-3.0'],
  ['copy-relabeled', `license: MIT\n${robin}${from('copy')}${parts}`, 'MIT'],
  ['no-permission', `license: MIT\n${robin}${from('remix')}${parts}`, 'cuff/left@A', { license: '' }],
  [
    'no-derivatives',
    `license: CC-BY-ND-4.0\n${robin}${from('remix')}${parts}`,
    'cuff/left@A',
    { license: 'CC-BY-ND-4.0' },
  ],
  [
    'ask-a-person',
    `license: CC-BY-ND-4.0\n${robin}${from('mirror')}${parts}`,
    'cuff/left@A',
    { license: 'CC-BY-ND-4.0' },
  ],
  [
    'change-not-indicated',
    `license: CC-BY-SA-4.0\n${robin}${from('remix', null)}${parts}`,
    'from: cuff/left@A',
  ],
  ['change-not-indicated', `license: CC-BY-SA-4.0\n${robin}${from('remix', "' '")}${parts}`, "' '"],
  ['credit-missing', `license: CC-BY-SA-4.0\n${by('Kim Example')}${from('remix')}${parts}`, 'authors:'],
  ['credit-missing', `license: CC-BY-SA-4.0\n${from('remix')}${parts}`, 'kinprint: variant/1'],
  [
    'two-licenses',
    `license: CC-BY-SA-4.0\n${robin}${from('copy')}${parts}`,
    'CC-BY-SA-4.0',
    { license: 'MIT' },
  ],
  [
    'branch-chosen',
    `license: MIT\n${robin}${from('remix')}${parts}`,
    'cuff/left@A',
    { license: 'MIT OR CC-BY-ND-4.0' },
  ],
  [
    'license-clash',
    `license: GPL-2.0-only\n${robin}${from('remix')}${parts}`,
    'GPL-2.0-only',
    { license: 'Apache-2.0' },
  ],
  ['license-wrong', `license: MIT AND\n${robin}${parts}`, 'MIT AND'],
  [
    'credit-custom',
    `license: MIT\n${by('Kim Example')}${from('remix')}${parts}`,
    'authors:',
    { license: 'CC0-1.0' },
  ],
];

/** Codes that need more than two manifests, with where they are planted. */
const elsewhere: Partial<Record<AuditCode, string>> = {
  'cannot-combine': 'scenarios.test.ts',
  'ancestor-unknown': 'sources.test.ts',
  'notice-dropped': 'demo.test.ts',
  'undeclared-relative': 'shapes.test.ts',
  'younger-relative': 'shapes.test.ts',
  'not-compared': 'look-alikes.test.ts',
  'more-than-declared': 'shapes.test.ts',
  'unchanged-copy': 'shapes.test.ts',
  // No manifest says these two; they are for works that other programs hand in.
  'extra-terms': 'scenarios.test.ts',
  'license-withdrawn': '../../packages/license/src/audit/audit.test.ts',
};

describe('findings of the audit', () => {
  it('have a planted case for every code', () => {
    const planted = new Set([...cases.map(([code]) => code), ...Object.keys(elsewhere)]);
    expect([...planted].sort()).toEqual(Object.keys(auditCodes).sort());
    for (const [code, file] of Object.entries(elsewhere))
      expect(readFileSync(path.join(import.meta.dirname, file), 'utf8')).toContain(code);
  });

  it.each(cases)(
    '%s stands at its line (%#)',
    { timeout: 30_000 },
    async (code, right, text, parent, more) => {
      const { folder } = await planted(right, parent, more);
      const report = await audited(folder);
      const found = report.works[0].findings.filter(each => each.code === code);
      expect(found.map(each => each.text)).toHaveLength(1);
      const [{ file, line, column }] = found;
      const registryWide = more?.startsWith('license') === true;
      expect(file).toBe(registryWide ? 'registry.yaml' : 'devices/cuff/right/variant.yaml');
      const source = readFileSync(path.join(folder, file ?? ''), 'utf8').split('\n')[(line ?? 0) - 1];
      expect(source.slice((column ?? 0) - 1).startsWith(text), source).toBe(true);
      const { out } = await runCli(['audit', 'cuff/right', '--no-shapes'], folder);
      expect(out).toContain(`    At ${file ?? ''}:${line ?? ''}:${column ?? ''}\n`);
    },
  );

  it('of a letter that is not what lies there now tell the file alone', { timeout: 30_000 }, async () => {
    const registry = await planted(`license: MIT\n${robin}${from('remix')}${parts}`);
    await recordByHand(registry.folder, 'cuff/right', 'A');
    const args = ['audit', 'cuff/right@A', '--no-shapes', '--json'];
    const place = async () => {
      const [work] = (JSON.parse((await runCli(args, registry.folder)).out) as RegistryAudit).works;
      return work.findings.map(each => [each.file, each.line]);
    };
    expect(await place()).toEqual([['devices/cuff/right/variant.yaml', 3]]);
    registry.write('devices/cuff/right/parts/shell.stl', mesh);
    expect(await place()).toEqual([['devices/cuff/right/variant.yaml', null]]);
  });
});

interface Log {
  readonly runs: readonly {
    readonly results: readonly {
      readonly ruleId: string;
      readonly locations: readonly {
        readonly physicalLocation?: {
          readonly artifactLocation: { readonly uri: string };
          readonly region?: { readonly startLine: number; readonly startColumn: number };
        };
      }[];
    }[];
  }[];
}

describe('SARIF 2.1.0', () => {
  it(
    'keeps to the published schema, with regions, and paths from the root of the repository',
    { timeout: 60_000 },
    async () => {
      const registry = await planted(`license: MIT\n${by('Kim Example')}${from('remix', null)}${parts}`);
      const sarif = async (folder: string): Promise<Log> => {
        const { code, out } = await runCli(['audit', '--no-shapes', '--format', 'sarif'], folder);
        expect(code).toBe(1);
        expect(publishedObjections('sarif', JSON.parse(out))).toEqual([]);
        return JSON.parse(out) as Log;
      };
      const places = ({ runs }: Log) =>
        runs[0].results.map(({ ruleId, locations: [{ physicalLocation: place }] }) => [
          ruleId,
          place?.artifactLocation.uri,
          place?.region?.startLine,
          place?.region?.startColumn,
        ]);
      const file = 'devices/cuff/right/variant.yaml';
      expect(places(await sarif(registry.folder))).toEqual([
        ['share-alike', file, 3, 10],
        ['credit-missing', file, 4, 1],
        ['change-not-indicated', file, 7, 5],
      ]);
      // The registry in a folder of its repository, whose name needs escapes (RFC 3986).
      const inner = path.join(registry.folder, 'our cuffs');
      const all = readdirSync(registry.folder);
      mkdirSync(inner);
      for (const name of all) renameSync(path.join(registry.folder, name), path.join(inner, name));
      execFileSync('git', ['init', '-q', registry.folder]);
      expect(places(await sarif(inner)).map(([, uri]) => uri)).toEqual(Array(3).fill(`our%20cuffs/${file}`));
    },
  );

  it('holds whatever people write (property)', () => {
    const text = fc.oneof(
      fc.string({ unit: 'binary' }),
      fc.constantFrom('\u202e', '{0}', '[a](1)', '\ud800', 'x'.repeat(9_000)),
    );
    const codes = Object.keys(auditCodes) as AuditCode[];
    const place = fc.oneof(
      fc.record({
        file: fc.oneof(fc.constant('devices/a/b/variant.yaml'), text),
        line: fc.integer({ min: 1 }),
        column: fc.integer({ min: 1 }),
      }),
      fc.constant({ file: null, line: null, column: null }),
      fc.constant({ file: 'registry.yaml', line: null, column: null }),
    );
    const findings = fc.array(
      fc.record({
        code: fc.constantFrom(...codes),
        text,
        remedy: text,
        part: fc.option(text),
        also: fc.array(text),
        place,
      }),
    );
    fc.assert(
      fc.property(findings, text, (given, prefix) => {
        const report: RegistryAudit = {
          registry: prefix,
          works: [
            {
              id: 'a/b@A',
              title: prefix,
              license: null,
              ancestors: 0,
              duties: [],
              use: null,
              credits: null,
              findings: given.map(({ place: where, ...each }) => ({
                ...each,
                ...where,
                severity: auditCodes[each.code],
                work: 'a/b@A',
                path: [],
                basis: null,
              })),
            },
          ],
          counts: { error: 0, warning: 0, ask: 0, note: 0 },
          disclaimer: prefix,
          guessed: [],
          shapes: false,
          unread: [],
        };
        const log = JSON.parse(JSON.stringify(auditSarif(report, '0.1.0', 'our cuffs'))) as Log;
        expect(publishedObjections('sarif', log)).toEqual([]);
        expect(log.runs[0].results).toHaveLength(given.length);
      }),
    );
  });
});
