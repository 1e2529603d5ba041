import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readDocument } from '@kinprint/manifest';
import { writeStlBinary } from '@kinprint/mesh';
import { joined } from '../../packages/mesh/src/testing/motions.ts';
import { plateWithHoles } from '../../packages/mesh/src/testing/plate.ts';
import { box } from '../../packages/mesh/src/testing/shapes.ts';
import { smallRegistry, type SmallRegistry } from '../../packages/registry/src/testing/small-registry.ts';
import { gitIn, removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { demoRegistry } from '../support/demo-registry.ts';
import { temporaryFolder } from '../support/meshes.ts';
import { runCli } from '../support/run-cli.ts';
import { prepare, type Prepared } from './support.ts';

const demo = temporaryFolder();
beforeAll(() => demoRegistry(demo.path), 120_000);
afterAll(() => {
  demo.remove();
  removeTemporaryFolders();
});

const shell = 'parts:\n  - id: shell\n    mesh: parts/shell.stl\n';

/** One committed variant on `main`. */
function committed(lines = ''): SmallRegistry {
  const registry = smallRegistry(lines);
  gitIn(registry.folder, 'init', '-q', '-b', 'main');
  registry.variant('left', shell, { 'shell.stl': box(20, 30, 10) });
  commit(registry, 'Before');
  return registry;
}

function commit({ folder }: SmallRegistry, message: string): void {
  gitIn(folder, 'add', '-A');
  gitIn(folder, 'commit', '-q', '-m', message);
}

/** Puts in every line that is offered, from the last to the first, as a person would by hand. */
function putIn(folder: string, { variants }: Prepared): void {
  for (const { file, missing } of variants) {
    const lines = readFileSync(path.join(folder, file), 'utf8').split('\n');
    for (const { line, replaces, text } of [...missing].reverse())
      lines.splice(line - 1, replaces, ...text.split('\n'));
    const text = lines.join('\n');
    expect(readDocument('variant', text, file).problems).toEqual([]);
    writeFileSync(path.join(folder, file), text);
  }
}

describe('kinprint prepare', () => {
  it('says that there is nothing to send', async () => {
    const { exit, answer, text } = await prepare(committed().folder);
    expect(exit).toBe(0);
    expect(answer).toMatchObject({ ready: true, variants: [], base: { name: 'main', uncommitted: true } });
    expect(text).toContain('Nothing to send: there is no change.');
  });

  it('counts from where HEAD left the default branch, and sees what is not committed', async () => {
    const registry = committed();
    gitIn(registry.folder, 'checkout', '-q', '-b', 'remix');
    registry.variant('right', shell, { 'shell.stl': box(40, 9, 5) });
    commit(registry, 'Right');
    registry.variant('wide', shell, { 'shell.stl': box(25, 70, 3) });
    const { answer } = await prepare(registry.folder);
    expect(answer.base).toMatchObject({ name: 'main', given: false, uncommitted: false, shared: true });
    expect(answer.variants.map(({ address }) => address)).toEqual(['cuff/right', 'cuff/wide']);
    const since = await prepare(registry.folder, '--base', 'HEAD');
    expect(since.answer.base).toMatchObject({ name: 'HEAD', given: true });
    expect(since.answer.variants.map(({ address }) => address)).toEqual(['cuff/wide']);
    // Without a branch checked out it is the same.
    gitIn(registry.folder, 'checkout', '-q', '--detach');
    expect((await prepare(registry.folder)).answer.variants).toEqual(answer.variants);
  });

  it('takes what the remote calls its default branch, and HEAD where there is none', async () => {
    const registry = committed();
    gitIn(registry.folder, 'update-ref', 'refs/remotes/origin/trunk', 'HEAD');
    gitIn(registry.folder, 'symbolic-ref', 'refs/remotes/origin/HEAD', 'refs/remotes/origin/trunk');
    registry.variant('right', shell, { 'shell.stl': box(40, 9, 5) });
    commit(registry, 'Right');
    const remote = await prepare(registry.folder);
    expect(remote.answer.base.name).toBe('origin/trunk');
    expect(remote.answer.variants.map(({ address }) => address)).toEqual(['cuff/right']);

    const other = committed();
    gitIn(other.folder, 'branch', '-q', '-m', 'work');
    expect((await prepare(other.folder)).answer.base).toMatchObject({ name: 'HEAD', given: false });
  });

  it('works in a clone without history', async () => {
    const registry = committed();
    registry.variant('left', shell, { 'shell.stl': box(20, 31, 10) });
    commit(registry, 'Second');
    const shallow = temporaryFolder();
    try {
      const clone = path.join(shallow.path, 'clone');
      gitIn(shallow.path, 'clone', '-q', '--depth', '1', `file://${registry.folder}`, clone);
      writeFileSync(path.join(clone, 'devices/cuff/left/parts/shell.stl'), writeStlBinary(box(20, 32, 10)));
      const { answer } = await prepare(clone);
      expect(answer.base).toMatchObject({ name: 'origin/main', shared: true, uncommitted: true });
      expect(answer.review.variants).toMatchObject([{ address: 'cuff/left', change: 'changed' }]);
    } finally {
      shallow.remove();
    }
  });

  it('says so where two branches share nothing, and where there is nothing to compare with', async () => {
    const registry = committed();
    gitIn(registry.folder, 'checkout', '-q', '--orphan', 'alone');
    commit(registry, 'Alone');
    const { answer, text } = await prepare(registry.folder);
    expect(answer.base).toMatchObject({ name: 'main', shared: false });
    expect(text.replace(/\s+/g, ' ')).toContain('no common commit is at hand');

    const unborn = smallRegistry();
    const bare = await runCli(['prepare'], unborn.folder);
    expect(bare).toMatchObject({ code: 2, out: '' });
    expect(bare.err).toContain('in no git repository');
    gitIn(unborn.folder, 'init', '-q');
    const empty = await runCli(['prepare'], unborn.folder);
    expect(empty.code).toBe(2);
    expect(empty.err).toContain('Nothing is committed yet');
    const wrong = await runCli(['prepare', '--base', 'no-such-branch'], registry.folder);
    expect(wrong.code).toBe(2);
    expect(wrong.err).toContain("no commit 'no-such-branch'");
  });

  it('names the printers that take a part, and a bore that nobody declared', async () => {
    const registry = committed(
      'printers:\n  - { id: small, title: Small, build_volume_mm: [30, 30, 30] }\n  - { id: large, title: Large, build_volume_mm: [200, 200, 200] }\n',
    );
    // A round bore of 3.2 mm drawn with 64 sides is 3.2 · cos(π/64) = 3.196 mm across its flats.
    const plate = plateWithHoles(40, 20, 5, [{ x: 10, y: 8, r: 1.6, sides: 64 }]);
    registry.variant('right', `summary: A plate.\n${shell}`, { 'shell.stl': plate });
    const { answer, text } = await prepare(registry.folder);
    expect(answer.variants[0].parts).toMatchObject([{ size_mm: [40, 20, 5], printers: ['large'] }]);
    expect(text).toContain('shell 40.0 × 20.0 × 5.0 mm: large');
    const [offer] = answer.variants[0].missing;
    expect(offer).toMatchObject({ kind: 'interfaces', part: 'shell', certain: false, replaces: 0 });
    putIn(registry.folder, answer);
    const manifest = readFileSync(path.join(registry.folder, answer.variants[0].file), 'utf8');
    expect(manifest).toContain('# mates:');
    const face = readDocument('variant', manifest, 'variant.yaml').value?.parts[0].interfaces?.[0];
    expect(face).toMatchObject({ kind: 'bore', nominal_mm: 3.2 });
    expect(face?.at_mm?.slice(0, 2)).toEqual([10, 8]);
    expect(face?.axis?.map(Math.abs)).toEqual([0, 0, 1]);
    const after = await prepare(registry.folder);
    expect(after.answer.variants[0].missing).toEqual([]);
    expect(after.answer.review.findings.filter(({ code }) => code.startsWith('interface-'))).toEqual([]);
  });

  it('names the printers that take a part only on another side', async () => {
    const registry = committed(
      'printers:\n  - { id: tall, title: Tall, build_volume_mm: [30, 40, 90] }\n  - { id: wide, title: Wide, build_volume_mm: [90, 30, 20] }\n  - { id: tiny, title: Tiny, build_volume_mm: [15, 15, 15] }\n',
    );
    registry.variant('right', shell, { 'shell.stl': box(20, 70, 10) });
    const { answer, text } = await prepare(registry.folder);
    // 70 mm lie along y: the wide one takes it turned by a quarter, the tall one standing on its end.
    expect(answer.variants[0].parts).toMatchObject([
      { size_mm: [20, 70, 10], printers: ['wide'], on_another_side: [{ printer: 'tall', up: 'y' }] },
    ]);
    expect(text).toContain('shell 20.0 × 70.0 × 10.0 mm: wide; on another side tall (y up)');
    await runCli(['prepare', '-o', 'text.md'], registry.folder);
    const markdown = readFileSync(path.join(registry.folder, 'text.md'), 'utf8');
    expect(markdown).toContain('| 20.0 × 70.0 × 10.0 | wide; on another side tall (y up) |');
  });

  it('offers what came from each of several parents', async () => {
    const two = 'parts:\n  - id: shell\n    mesh: parts/shell.stl\n  - id: lid\n    mesh: parts/lid.stl\n';
    const registry = committed();
    registry.variant('one', two, { 'shell.stl': box(20, 30, 10), 'lid.stl': box(9, 8, 3) });
    registry.variant('two', two, { 'shell.stl': box(20, 30, 10), 'lid.stl': box(8, 8, 4) });
    commit(registry, 'Two parents');
    for (const name of ['one', 'two'])
      expect((await runCli(['record', `cuff/${name}`], registry.folder)).code).toBe(0);
    const lines =
      'derivations:\n  - from: cuff/one@A\n    relation: combination\n  - from: cuff/two@A\n    relation: combination\n';
    // The lid is that of the second; the shell is that of the first with a block of 4 × 5 × 6 mm on it.
    registry.variant('both', `${lines}${two}`, {
      'shell.stl': joined(box(20, 30, 10), box(4, 5, 6, [3, 3, 10])),
      'lid.stl': box(8, 8, 4),
    });
    const { answer } = await prepare(registry.folder);
    const offered = answer.variants[0].missing.filter(({ kind }) => kind === 'changes');
    expect(offered.map(({ certain }) => certain)).toEqual([false, false]);
    putIn(registry.folder, answer);
    const manifest = readFileSync(path.join(registry.folder, answer.variants[0].file), 'utf8');
    expect(
      readDocument('variant', manifest, 'variant.yaml').value?.derivations?.map(({ changes }) => changes),
    ).toEqual(['shell: reworked; +120.0 mm³.', 'As in it: lid.']);
  });

  it('tells once that a license is missing', async () => {
    const registry = committed();
    registry.write(
      'devices/cuff/left/variant.yaml',
      `kinprint: variant/1\ntitle: Cuff\nauthors:\n  - name: Robin Sample\n${shell}`,
    );
    const { answer } = await prepare(registry.folder);
    const told = answer.review.findings.map(({ code }) => code).filter(code => code.includes('license'));
    expect(told).toEqual(['license-none']);
  });

  it('writes nothing of a title into its text but the title', async () => {
    const registry = committed();
    const title = '<img src=x onerror=alert(1)> [here](javascript:alert(1)) @everybody | `x` \\';
    registry.write(
      'devices/cuff/right/variant.yaml',
      `kinprint: variant/1\ntitle: ${JSON.stringify(title)}\nlicense: CC-BY-4.0\nauthors:\n  - name: "A | B\\n# C"\n${shell}`,
    );
    registry.write('devices/cuff/right/parts/shell.stl', box(40, 9, 5));
    await runCli(['prepare', '-o', 'text.md'], registry.folder);
    const text = readFileSync(path.join(registry.folder, 'text.md'), 'utf8');
    expect(text).toContain(
      '## \\<img src=x onerror=alert(1)\\> \\[here\\](javascript:alert(1)) \\@everybody',
    );
    expect(text).not.toMatch(/(^|[^\\])(<img|@everybody|\[here)/);
    const { out } = await runCli(['prepare'], registry.folder);
    expect(out).not.toContain('\u001b');
  });
});

describe('a remix of the demo, prepared until it is clean', () => {
  it('settles step by step what a maintainer would ask', { timeout: 120_000 }, async () => {
    const folder = demo.path;
    gitIn(folder, 'checkout', '-q', '-b', 'remix');
    expect((await runCli(['derive', 'utensil-cuff/right-58', 'right-58-plain'], folder)).code).toBe(0);
    const file = path.join(folder, 'devices/utensil-cuff/right-58-plain/variant.yaml');
    const bare = readFileSync(file, 'utf8')
      .replace(/^license:.*\n/m, '')
      .replace(/^summary:.*\n/m, '')
      .replace(/^ {4}digest:.*\n/m, '')
      .replace(/^ {4}material:.*\n/m, '')
      .replace(/^ {2}- name: Jonah Pellbrook\n(?: {4}.*\n| {6}.*\n)*/m, '');
    writeFileSync(file, bare);
    const plate = plateWithHoles(24, 28, 4, [{ x: 12, y: 14, r: 2.6, sides: 48 }]);
    writeFileSync(
      path.join(folder, 'devices/utensil-cuff/right-58-plain/parts/buckle.stl'),
      writeStlBinary(plate),
    );

    const first = await prepare(folder);
    expect(first.exit).toBe(1);
    expect(first.answer.ready).toBe(false);
    expect(first.answer.variants[0].missing.map(({ kind }) => kind).sort()).toEqual(
      ['authors', 'changes', 'digest', 'interfaces', 'license', 'material', 'summary'].sort(),
    );
    expect(first.text).toMatch(/^Not ready to send\. \d+ findings stand in\s+the way\./);
    expect(readFileSync(file, 'utf8')).toBe(bare);

    const added = await prepare(folder, '--add');
    expect(added.answer.added.map(({ kind }) => kind).sort()).toEqual([
      'authors',
      'digest',
      'license',
      'material',
    ]);
    const written = readDocument('variant', readFileSync(file, 'utf8'), file).value;
    const parent = readDocument(
      'variant',
      readFileSync(path.join(folder, 'devices/utensil-cuff/right-58/variant.yaml'), 'utf8'),
      'variant.yaml',
    ).value;
    expect(written?.license).toBe(parent?.license);
    expect(written?.authors).toEqual(parent?.authors);
    expect(written?.derivations?.[0].digest).toBe(parent?.revisions?.at(-1)?.digest);
    expect(written?.parts.map(({ material }) => material)).toEqual(
      parent?.parts.map(({ material }) => material),
    );
    // Comments stay.
    expect(readFileSync(file, 'utf8')).toContain('# Everybody who made what this derives from.');
    const blocking = added.answer.review.findings.filter(({ blocks }) => blocks);
    expect(blocking.map(({ code }) => code)).toEqual(['change-not-indicated']);

    putIn(folder, added.answer);
    const last = await prepare(folder, '--output', 'submission.md');
    expect(last.exit).toBe(0);
    expect(last.answer.variants[0].missing).toEqual([]);
    expect(last.answer.variants[0].parents[0].changes).toContain('buckle: reworked; 1 bore added');
    expect(last.text).toMatch(/^Ready to send/);

    const text = readFileSync(path.join(folder, 'submission.md'), 'utf8');
    expect(text).toContain('remix of utensil-cuff/right-58\\@C: Utensil cuff, right hand, 58 mm, by Mira');
    expect(text).toContain('License: CC-BY-SA-4.0');
    const picture = /!\[[^\]]*\]\(([^)]+)\)/.exec(text)?.[1] ?? '';
    expect(existsSync(path.join(folder, picture))).toBe(true);
    expect(text.match(/^- \[ \] /gm)?.length).toBeGreaterThanOrEqual(5);
    expect(text).not.toMatch(/- \[x\]/i);
    expect(text).not.toMatch(/\bsafe\b/i);

    // Who leaves out where it came from is told by the shapes.
    writeFileSync(file, readFileSync(file, 'utf8').replace(/^derivations:\n(?: .*\n)+/m, ''));
    const silent = await prepare(folder);
    const offered = silent.answer.variants[0].missing.find(({ kind }) => kind === 'derivation');
    expect(offered).toMatchObject({ certain: false, replaces: 0 });
    expect(offered?.text).toContain('from: utensil-cuff/right-58@');
    expect(offered?.text.match(/from:/g)).toHaveLength(1);
    putIn(folder, silent.answer);
    const told = await prepare(folder);
    expect(told.answer.review.findings.map(({ code }) => code)).not.toContain('undeclared-relative');
  });
});
