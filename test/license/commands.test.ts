import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Credits } from '@kinprint/license';
import type { RegistryAudit } from '@kinprint/registry';
import { plateWithHoles } from '../../packages/mesh/src/testing/plate.ts';
import { smallRegistry } from '../../packages/registry/src/testing/small-registry.ts';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { makeRegistry } from '../../tools/demo/registry/make-registry.ts';
import { recordByHand } from '../check/support.ts';
import { runCli } from '../support/run-cli.ts';
import { objections } from '../support/schemas.ts';

const demo = path.join(mkdtempSync(path.join(tmpdir(), 'kinprint-audit-')), 'registry');
beforeAll(async () => makeRegistry(demo), 180_000);
afterAll(() => {
  removeTemporaryFolders();
  rmSync(path.dirname(demo), { recursive: true, force: true });
});

const shell = plateWithHoles(40, 20, 5, [{ x: 8, y: 6, r: 1.5, sides: 32 }]);
const wider = plateWithHoles(44, 20, 5, [{ x: 8, y: 6, r: 1.5, sides: 32 }]);

/** Runs an audit for people and for programs; both outputs keep their form. */
async function audited(
  folder: string,
  ...args: string[]
): Promise<{ code: number; report: RegistryAudit; text: string }> {
  const { code, out, err } = await runCli(['audit', '--json', ...args], folder);
  expect(err).toBe('');
  const report = JSON.parse(out) as RegistryAudit;
  expect(objections('audit', report)).toEqual([]);
  const { out: text } = await runCli(['audit', ...args], folder);
  for (const line of text.split('\n')) expect([...line].length, line).toBeLessThanOrEqual(80);
  expect(text.replace(/\s+/g, ' ')).toContain('This is no legal advice.');
  return { code, report, text };
}

const found = (report: RegistryAudit): string[] =>
  report.works.flatMap(w => w.findings.map(f => `${f.work} ${f.severity} ${f.code}`));

/** `left` by Robin under the license, recorded as A, and `right` that came from it as the lines say. */
async function pair(license: string, right: string, registryLines = '') {
  const registry = smallRegistry(registryLines);
  const part = 'parts:\n  - id: shell\n    mesh: parts/shell.stl\n';
  const head = (of: string, names: string[]) =>
    `kinprint: variant/1\ntitle: Cuff\nlicense: ${of}\nauthors:\n${names.map(name => `  - name: ${name}\n`).join('')}`;
  registry.write('devices/cuff/left/parts/shell.stl', shell);
  registry.write('devices/cuff/left/variant.yaml', head(license, ['Robin Sample']) + part);
  await recordByHand(registry.folder, 'cuff/left', 'A');
  const write = (of: string, names: string[], derivation: string, mesh = wider) => {
    registry.write('devices/cuff/right/parts/shell.stl', mesh);
    registry.write('devices/cuff/right/variant.yaml', `${head(of, names)}${derivation}${part}`);
  };
  write(license, ['Robin Sample', 'Kim Example'], right);
  return { ...registry, rewrite: write };
}

const remix = 'derivations:\n  - from: cuff/left@A\n    relation: remix\n    changes: Made wider.\n';
const silent = 'derivations:\n  - from: cuff/left@A\n    relation: remix\n';

describe('kinprint audit', () => {
  it(
    'finds what is wrong in manifests, and nothing once each is mended by hand',
    { timeout: 60_000 },
    async () => {
      const registry = await pair('CC-BY-SA-4.0', remix);
      expect(await audited(registry.folder, '--no-shapes')).toMatchObject({
        code: 0,
        report: { works: [{ findings: [] }, { findings: [] }] },
      });
      registry.rewrite('MIT', ['Kim Example'], silent);
      const { code, report, text } = await audited(registry.folder, '--no-shapes');
      expect(code).toBe(1);
      expect(found(report)).toEqual([
        'cuff/right error share-alike',
        'cuff/right error credit-missing',
        'cuff/right error change-not-indicated',
      ]);
      expect(text).toContain('Way: cuff/right, a remix of cuff/left@A.');
      expect(text).toContain('Rule: CC-BY-SA-4.0 3(b)(1)');
      registry.rewrite('CC-BY-SA-4.0', ['Kim Example'], silent);
      expect(found((await audited(registry.folder, '--no-shapes')).report)).toHaveLength(2);
      registry.rewrite('CC-BY-SA-4.0', ['Kim Example', 'Robin Sample'], remix);
      expect((await audited(registry.folder, '--no-shapes')).code).toBe(0);
    },
  );

  it(
    'takes an unchanged remix of a no-derivatives work for the copy that it is',
    { timeout: 60_000 },
    async () => {
      const registry = await pair('CC-BY-ND-4.0', remix);
      expect(found((await audited(registry.folder, 'cuff/right', '--no-shapes')).report)).toEqual([
        'cuff/right error no-derivatives',
      ]);
      registry.rewrite('CC-BY-ND-4.0', ['Robin Sample'], remix, shell);
      expect(found((await audited(registry.folder, 'cuff/right', '--no-shapes')).report)).toEqual([
        'cuff/right note unchanged-copy',
      ]);
    },
  );

  it('keeps to the policy of registry.yaml', { timeout: 60_000 }, async () => {
    const mirror = remix.replace('remix', 'mirror');
    const settle = (lines: string) => `policy:\n  licenses:\n${lines}`;
    const codes = async (license: string, lines: string) => {
      const { folder } = await pair(license, mirror, lines);
      return found((await audited(folder, 'cuff/right', '--no-shapes')).report);
    };
    expect(await codes('CC-BY-ND-4.0', '')).toEqual(['cuff/right ask ask-a-person']);
    expect(await codes('CC-BY-ND-4.0', settle('    mirror_is_adaptation: false\n'))).toEqual([]);
    expect(await codes('CC-BY-ND-4.0', settle('    mirror_is_adaptation: true\n'))).toEqual([
      'cuff/right error no-derivatives',
    ]);
    expect(await codes('CC-BY-NC-4.0', settle('    forbid: [CC-BY-NC-4.0]\n'))).toEqual([
      'cuff/right error license-forbidden',
      'cuff/right error license-forbidden',
    ]);
  });

  it('answers whether something may be done, and who must be named', { timeout: 60_000 }, async () => {
    const { folder } = await pair('CC-BY-NC-4.0', remix);
    const sale = await audited(folder, 'cuff/right', '--no-shapes', '--use', 'sale');
    expect(sale.code).toBe(1);
    expect(sale.report.works[0].use).toMatchObject({
      answer: 'not-permitted',
      names: ['Robin Sample', 'Kim Example'],
    });
    expect(sale.text).toContain('selling of cuff/right: not allowed');
    const clinic = await audited(folder, 'cuff/right', '--no-shapes', '--use', 'clinic');
    expect([clinic.code, clinic.report.works[0].use?.answer]).toEqual([0, 'ask']);
    expect(
      (await audited(folder, 'cuff/right', '--no-shapes', '--use', 'personal')).report.works[0].use?.answer,
    ).toBe('permitted');
  });

  it(
    'writes SARIF 2.1.0 with rules, levels and manifests (OASIS standard, 3.27, 3.49), and Markdown',
    { timeout: 60_000 },
    async () => {
      const registry = await pair('CC-BY-SA-4.0', remix);
      registry.rewrite('MIT', ['Kim Example'], silent);
      const { code, out } = await runCli(['audit', '--no-shapes', '--format', 'sarif'], registry.folder);
      expect(code).toBe(1);
      interface Result {
        ruleId: string;
        ruleIndex: number;
        level: string;
        message: { text: string };
        locations: { physicalLocation: { artifactLocation: { uri: string } } }[];
      }
      const log = JSON.parse(out) as {
        version: string;
        runs: { tool: { driver: { rules: { id: string }[] } }; results: Result[] }[];
      };
      expect(log.version).toBe('2.1.0');
      const [{ tool, results }] = log.runs;
      expect(results).toHaveLength(3);
      for (const result of results) {
        expect(tool.driver.rules[result.ruleIndex].id).toBe(result.ruleId);
        expect(result.level).toBe('error');
        expect(result.locations[0].physicalLocation.artifactLocation.uri).toBe(
          'devices/cuff/right/variant.yaml',
        );
      }
      const markdown = (await runCli(['audit', '--no-shapes', '--format', 'markdown'], registry.folder)).out;
      expect(markdown).toContain('- **error** `share-alike`');
      expect(markdown).toContain('This is no legal advice.');
    },
  );

  it('needs a variant that there is', async () => {
    const { folder } = await pair('MIT', remix);
    const { code, err } = await runCli(['audit', 'cuff/lef'], folder);
    expect([code, err]).toEqual([2, expect.stringContaining('Did you mean cuff/left')]);
  });
});

describe('the demo registry', () => {
  it(
    'has a forgotten origin, found by its shape; declared and credited, nothing is left',
    { timeout: 180_000 },
    async () => {
      const before = await audited(demo, 'pen-cuff/right-64');
      expect(before.code).toBe(1);
      expect(before.text.replace(/\s+/g, ' ')).toContain(
        'the same shape after scaling by 1.1; the lineage does not say so.',
      );
      expect(new Set(found(before.report).map(text => text.split(' ')[2]))).toEqual(
        new Set(['undeclared-relative']),
      );
      const file = path.join(demo, 'devices/pen-cuff/right-64/variant.yaml');
      const original = readFileSync(file, 'utf8');
      const mended = original
        .replace('license: CC-BY-4.0', 'license: CC-BY-SA-4.0')
        .replace(
          /^authors:\n/m,
          'authors:\n  - name: Mira Oakfield\n  - name: Jonah Pellbrook\n  - name: Ines Farrowgate\n',
        )
        .replace(
          /^parts:\n/m,
          'derivations:\n  - from: utensil-cuff/right-58@B\n    relation: remix\n    changes: Shell scaled by 1.1, sleeve for pens.\n  - from: utensil-cuff/right-62@A\n    relation: combination\n    changes: Leaf taken.\nparts:\n',
        );
      expect(mended).not.toBe(original);
      writeFileSync(file, mended);
      const after = await audited(demo, 'pen-cuff/right-64');
      writeFileSync(file, original);
      expect([after.code, found(after.report)]).toEqual([0, []]);
      execFileSync('git', ['-C', demo, 'diff', '--quiet']);
    },
  );

  it('credits for the combination name everybody across three generations', { timeout: 60_000 }, async () => {
    const { code, out } = await runCli(['credits', 'utensil-cuff/left-58-rib-quick', '--json'], demo);
    const told = JSON.parse(out) as Credits;
    expect([code, objections('credits', told)]).toEqual([0, []]);
    expect(Math.max(...told.from.map(entry => entry.generation))).toBe(3);
    for (const format of ['text', 'markdown', 'html', 'label']) {
      const text = (
        await runCli(['credits', 'utensil-cuff/left-58-rib-quick', '--format', format], demo)
      ).out.replace(/\s+/g, ' ');
      for (const name of [
        'Mira Oakfield',
        'Jonah Pellbrook',
        'Teo Lindqvale',
        'Sanna Brightmoor',
        'CC-BY-SA-4.0',
      ])
        expect(text, format).toContain(name);
    }
  });

  it(
    'authors who came later are not owed to who built on an earlier letter',
    { timeout: 60_000 },
    async () => {
      // Jonah joined at right-58@B; the quick strap came from right-58@A.
      const { report } = await audited(demo, 'utensil-cuff/right-58-quick-strap', '--no-shapes');
      expect([found(report), report.guessed]).toEqual([[], []]);
    },
  );
});
