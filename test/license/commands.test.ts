import { afterAll, describe, expect, it } from 'vitest';
import { plateWithHoles } from '../../packages/mesh/src/testing/plate.ts';
import { smallRegistry } from '../../packages/registry/src/testing/small-registry.ts';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { recordByHand } from '../check/support.ts';
import { runCli } from '../support/run-cli.ts';
import { audited, found } from './support.ts';

afterAll(removeTemporaryFolders);

const shell = plateWithHoles(40, 20, 5, [{ x: 8, y: 6, r: 1.5, sides: 32 }]);
const wider = plateWithHoles(44, 20, 5, [{ x: 8, y: 6, r: 1.5, sides: 32 }]);

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
    expect(sale.text).toContain('Selling of cuff/right: no.');
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
