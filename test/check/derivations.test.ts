import { appendFileSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { writeStlBinary, type Mesh } from '@kinprint/mesh';
import { afterAll, describe, expect, it } from 'vitest';
import { flipped, moved, scaled } from '../../packages/mesh/src/testing/motions.ts';
import { plateWithHoles } from '../../packages/mesh/src/testing/plate.ts';
import { box } from '../../packages/mesh/src/testing/shapes.ts';
import { smallRegistry, variantHead } from '../../packages/registry/src/testing/small-registry.ts';
import {
  gitIn,
  removeTemporaryFolders,
  temporaryFolder,
  temporaryRepository,
} from '../../packages/registry/src/testing/temporary-repository.ts';
import {
  checkRegistry,
  noCache,
  openCheck,
  openSources,
  readRegistry,
  workingFiles,
} from '@kinprint/registry';
import { runCli } from '../support/run-cli.ts';
import { check, expectOnly, recordByHand } from './support.ts';

afterAll(removeTemporaryFolders);

const shell = 'parts:\n  - id: shell\n    mesh: parts/shell.stl\n';
/** Of no symmetry that a mirror leaves. */
const part = plateWithHoles(40, 20, 5, [
  { x: 8, y: 6, r: 1.5, sides: 32 },
  { x: 30, y: 12, r: 3, sides: 32, depth: 2 },
]);
const mirrorX = [
  [-1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
] as const;
const mirrored = flipped(moved(part, mirrorX));
/** Other triangles, so that the file is another one. */
const turned = moved(part, [
  [0, -1, 0],
  [1, 0, 0],
  [0, 0, 1],
]);

/** `left` recorded as A, and `right` that says it came from it. */
async function pair(right: Mesh, derivation: (digest: string) => string, registryLines = '') {
  const registry = smallRegistry(registryLines);
  registry.variant('left', shell, { 'shell.stl': part });
  const digest = await recordByHand(registry.folder, 'cuff/left', 'A');
  registry.variant('right', `derivations:\n  - ${derivation(digest)}\n${shell}`, { 'shell.stl': right });
  return registry;
}

const right = 'devices/cuff/right/variant.yaml';

describe('derivations', () => {
  it('that hold are no finding', async () => {
    for (const [mesh, relation] of [
      [mirrored, 'mirror'],
      [scaled(part, 1.1), 'rescale'],
      [turned, 'copy'],
      [box(9, 9, 9), 'remix'],
    ] as const) {
      const registry = await pair(
        mesh,
        digest => `{ from: cuff/left@A, digest: '${digest}', relation: ${relation} }`,
      );
      expect((await check(registry)).report.findings, relation).toEqual([]);
    }
  });

  it('of parts that are their own mirror images hold, whatever was mirrored', async () => {
    const registry = smallRegistry();
    registry.variant('left', shell, { 'shell.stl': box(20, 30, 10) });
    await recordByHand(registry.folder, 'cuff/left', 'A');
    registry.variant('right', `derivations:\n  - { from: cuff/left@A, relation: mirror }\n${shell}`, {
      'shell.stl': box(20, 30, 10, [-20, 0, 0]),
    });
    expect((await check(registry)).report.findings).toEqual([]);
  });

  it('from an unknown variant, with a suggestion', async () => {
    const registry = await pair(turned, () => '{ from: cuff/lef@A, relation: remix }');
    const { report } = await expectOnly(registry, {
      code: 'derivation-unknown',
      severity: 'error',
      file: right,
      line: '- { from: cuff/lef@A, relation: remix }',
    });
    expect(report.findings[0].remedy).toContain("'cuff/left'");
  });

  it('from a folder that was renamed: the digest tells where it went', async () => {
    let recorded = '';
    const registry = await pair(turned, digest => {
      recorded = digest;
      return `{ from: cuff/old-name@A, digest: '${digest}', relation: remix }`;
    });
    const { report } = await expectOnly(registry, {
      code: 'derivation-renamed',
      severity: 'warning',
      file: right,
      line: `- { from: cuff/old-name@A, digest: '${recorded}', relation: remix }`,
    });
    expect(report.findings[0].text).toContain("'cuff/left@A'");
    const { out } = await runCli(['lineage', '--json', '--registry', registry.folder], registry.folder);
    const { edges } = JSON.parse(out) as { edges: { from: string; to: string }[] };
    expect(edges).toContainEqual(expect.objectContaining({ from: 'cuff/right', to: 'cuff/left@A' }));
  });

  it('from a letter that was never recorded', async () => {
    const registry = await pair(turned, () => '{ from: cuff/left@B, relation: remix }');
    await expectOnly(registry, {
      code: 'derivation-letter-unknown',
      severity: 'error',
      file: right,
      line: '- { from: cuff/left@B, relation: remix }',
    });
  });

  it('that point at another digest', async () => {
    const line = `{ from: cuff/left@A, relation: remix, digest: 'sha256:${'0'.repeat(64)}' }`;
    const { report } = await expectOnly(await pair(turned, () => line), {
      code: 'derivation-digest-differs',
      severity: 'error',
      file: right,
      line: `- ${line}`,
    });
    expect(report.findings[0].column).toBe(line.indexOf("'sha256") + '  - '.length + 1);
  });

  it('from sources that are not listed, or not at hand', async () => {
    await expectOnly(await pair(turned, () => '{ from: frends:cuff/left@A, relation: remix }'), {
      code: 'source-unknown',
      severity: 'error',
      file: right,
      line: '- { from: frends:cuff/left@A, relation: remix }',
    });
    const sources = 'sources:\n  friends: { git: https://example.org/friends.git }\n';
    await expectOnly(await pair(turned, () => '{ from: friends:cuff/left@A, relation: remix }', sources), {
      code: 'source-not-fetched',
      severity: 'warning',
      file: right,
      line: '- { from: friends:cuff/left@A, relation: remix }',
    });
  });

  it('that form a circle, told once', async () => {
    const registry = await pair(turned, () => '{ from: cuff/left@A, relation: remix }');
    await recordByHand(registry.folder, 'cuff/right', 'A');
    registry.write(
      'devices/cuff/left/variant.yaml',
      `${variantHead}derivations:\n  - from: cuff/right@A\n    relation: remix\n${shell}`,
    );
    await recordByHand(registry.folder, 'cuff/left', 'A');
    await expectOnly(registry, {
      code: 'derivation-circle',
      severity: 'error',
      file: 'devices/cuff/left/variant.yaml',
      line: '- from: cuff/right@A',
      says: /cuff\/left from cuff\/right from cuff\/left/,
    });
  });

  it('from the variant itself', async () => {
    const registry = smallRegistry();
    registry.variant('left', `derivations:\n  - { from: cuff/left@A, relation: remix }\n${shell}`, {
      'shell.stl': part,
    });
    await recordByHand(registry.folder, 'cuff/left', 'A');
    await expectOnly(registry, {
      code: 'derivation-circle',
      severity: 'error',
      file: 'devices/cuff/left/variant.yaml',
      line: '- { from: cuff/left@A, relation: remix }',
      says: /from itself/,
    });
  });

  it('that the meshes do not bear out', async () => {
    for (const [mesh, relation, says] of [
      [turned, 'mirror', /no part is mirrored: 'shell' is the same/],
      [mirrored, 'rescale', /no part has another scale: 'shell' is mirrored/],
      [scaled(part, 1.1), 'copy', /'shell' is rescaled/],
      [box(9, 90, 9), 'copy', /'shell' is another shape/],
    ] as const)
      await expectOnly(await pair(mesh, () => `{ from: cuff/left@A, relation: ${relation} }`), {
        code: 'derivation-unlike',
        severity: 'warning',
        file: right,
        line: `- { from: cuff/left@A, relation: ${relation} }`,
        says,
      });
  });

  it('are compared with the letter they name, though the variant has changed since', async () => {
    const registry = await pair(turned, () => '{ from: cuff/left@A, relation: mirror }');
    gitIn(registry.folder, 'init', '-q', '-b', 'main');
    gitIn(registry.folder, 'add', '-A');
    gitIn(registry.folder, 'commit', '-q', '-m', 'A');
    // Now `right` would be a mirror of the present content.
    registry.write('devices/cuff/left/parts/shell.stl', mirrored);
    await expectOnly(
      registry,
      {
        code: 'derivation-unlike',
        severity: 'warning',
        file: right,
        line: '- { from: cuff/left@A, relation: mirror }',
        says: /'shell' is the same/,
      },
      'changed-since',
    );
  });
});

describe('letters in history', () => {
  it('recorded for other content on another branch', async () => {
    const registry = smallRegistry();
    const { folder } = registry;
    const manifest = path.join(folder, 'devices/cuff/left/variant.yaml');
    registry.variant('left', shell, { 'shell.stl': part });
    gitIn(folder, 'init', '-q', '-b', 'main');
    gitIn(folder, 'add', '-A');
    gitIn(folder, 'commit', '-q', '-m', 'none');
    gitIn(folder, 'checkout', '-q', '-b', 'other');
    appendFileSync(
      manifest,
      `revisions:\n  - letter: A\n    digest: sha256:${'1'.repeat(64)}\n    date: 2026-01-01\n`,
    );
    gitIn(folder, 'commit', '-q', '-a', '-m', 'A elsewhere');
    const elsewhere = gitIn(folder, 'rev-parse', 'HEAD');
    gitIn(folder, 'checkout', '-q', 'main');
    expect((await check(registry)).report.findings).toEqual([]);
    await recordByHand(folder, 'cuff/left', 'A');
    await expectOnly(registry, {
      code: 'letter-reused',
      severity: 'error',
      file: 'devices/cuff/left/variant.yaml',
      line: '- letter: A',
      says: new RegExp(elsewhere.slice(0, 12)),
    });
    // Once both are recorded, on two branches and then in one, nothing can undo it.
    gitIn(folder, 'commit', '-q', '-a', '-m', 'A here');
    const parallel = {
      code: 'letter-parallel',
      severity: 'warning',
      file: 'devices/cuff/left/variant.yaml',
      line: '- letter: A',
      says: new RegExp(`${elsewhere.slice(0, 12)} on another branch`),
    } as const;
    await expectOnly(registry, parallel);
    gitIn(folder, 'merge', '-q', '-s', 'ours', '-m', 'both', 'other');
    await expectOnly(registry, parallel);
    // What was recorded before in the same line is no such case.
    writeFileSync(
      manifest,
      readFileSync(manifest, 'utf8').replace(/sha256:[0-9a-f]{64}/, `sha256:${'2'.repeat(64)}`),
    );
    gitIn(folder, 'commit', '-q', '-a', '-m', 'A changed');
    await expectOnly(
      registry,
      { ...parallel, code: 'letter-reused', severity: 'error', says: /other content/ },
      'changed-since',
    );
  });
});

describe('a revision of git', () => {
  it('is checked without a checkout', async () => {
    const registry = smallRegistry();
    registry.variant('left', shell, { 'shell.stl': part });
    const { folder } = registry;
    gitIn(folder, 'init', '-q', '-b', 'main');
    gitIn(folder, 'add', '-A');
    gitIn(folder, 'commit', '-q', '-m', 'good');
    registry.write('devices/cuff/left/parts/shell.stl', 'no mesh');
    expect((await check(registry)).exit).toBe(1);
    const { exit, report } = await check(registry, '--at', 'HEAD');
    expect({ exit, findings: report.findings }).toEqual({ exit: 0, findings: [] });
    expect(report.commit).toBe(gitIn(folder, 'rev-parse', 'HEAD'));
    expect((await runCli(['check', '--no-cache', '--at', 'v9'], folder)).code).toBe(2);
  });

  it('is checked where the registry is a folder of a larger repository', async () => {
    const outer = temporaryRepository();
    outer.write('group/registry.yaml', 'kinprint: registry/1\nname: Utensil-cuff lending group\n');
    outer.write(
      'group/devices/cuff/device.yaml',
      'kinprint: device/1\ntitle: Cuff\npurpose: Holds a spoon.\n',
    );
    outer.write('group/devices/cuff/left/variant.yaml', variantHead + shell);
    outer.write('group/devices/cuff/left/parts/shell.stl', writeStlBinary(part));
    const registry = { folder: path.join(outer.folder, 'group') };
    await recordByHand(registry.folder, 'cuff/left', 'A');
    outer.commit('A');
    for (const args of [[], ['--at', 'main']])
      expect((await check(registry, ...args)).report.findings).toEqual([]);
    // The history's A is another one than the folder's from now on.
    const manifest = path.join(registry.folder, 'devices/cuff/left/variant.yaml');
    writeFileSync(
      manifest,
      readFileSync(manifest, 'utf8').replace(/sha256:[0-9a-f]{64}/, `sha256:${'1'.repeat(64)}`),
    );
    await expectOnly(
      registry,
      {
        code: 'letter-reused',
        severity: 'error',
        file: 'devices/cuff/left/variant.yaml',
        line: '- letter: A',
      },
      'changed-since',
    );
  });
});

describe('sources', () => {
  it('that were fetched are looked into, their history too; none is fetched', async () => {
    const other = smallRegistry();
    other.variant('left', shell, { 'shell.stl': part });
    const digest = await recordByHand(other.folder, 'cuff/left', 'A');
    gitIn(other.folder, 'init', '-q', '-b', 'main');
    gitIn(other.folder, 'add', '-A');
    gitIn(other.folder, 'commit', '-q', '-m', 'A');
    other.write('devices/cuff/left/parts/shell.stl', mirrored);
    gitIn(other.folder, 'commit', '-q', '-a', '-m', 'changed since');

    const mine = (derivation: string) => {
      const registry = smallRegistry(`sources:\n  friends: { git: '${other.folder}' }\n`);
      registry.variant('mine', `derivations:\n  - ${derivation}\n${shell}`, { 'shell.stl': turned });
      return registry;
    };
    const fetched = temporaryFolder();
    const findings = async (derivation: string) => {
      const { folder } = mine(derivation);
      const open = await openCheck(folder, null, noCache(), fetched);
      try {
        return (await checkRegistry(open.state, open.options)).findings.map(f => `${f.code}: ${f.text}`);
      } finally {
        await open.close();
      }
    };
    const copy = `{ from: friends:cuff/left@A, relation: copy, digest: '${digest}' }`;
    expect((await findings(copy)).join()).toMatch(/^source-not-fetched/);
    const sources = openSources(await readRegistry(workingFiles(mine(copy).folder)), { cache: fetched });
    await sources.open('friends');
    await sources.close();

    expect(await findings(copy)).toEqual([]);
    expect((await findings(copy.replace('copy', 'mirror'))).join()).toMatch(
      /^derivation-unlike.*'shell' is the same/,
    );
    expect((await findings(copy.replace('left@A', 'lef@A'))).join()).toMatch(
      /^derivation-renamed: The source 'friends' has no variant 'cuff\/lef'/,
    );
    expect((await findings(copy.replace('@A', '@B'))).join()).toMatch(/^derivation-letter-unknown/);
  });
});
