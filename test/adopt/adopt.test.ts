import { existsSync, readFileSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { readDocument } from '@kinprint/manifest';
import { adopt, type AdoptOutcome, type QuestionCode, type VariantPlan } from '@kinprint/registry';
import { afterAll, describe, expect, test } from 'vitest';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { box, without } from '../support/meshes.ts';
import { runCli } from '../support/run-cli.ts';
import { objections } from '../support/schemas.ts';
import {
  emptyRegistry,
  folderOf,
  historyOf,
  mirrored,
  scaled,
  split,
  stl,
  wedge,
  type Things,
} from './things.ts';

afterAll(removeTemporaryFolders);

const today = '2026-01-02';
const look = (place: string, options: Partial<Parameters<typeof adopt>[1]> = {}): Promise<AdoptOutcome> =>
  adopt(place, { registry: null, dryRun: true, today, ...options });
const lookAt = (things: Things, options = {}): Promise<AdoptOutcome> =>
  look(folderOf('Strap holder', things), options);

function last(variant: VariantPlan) {
  return variant.letters[variant.letters.length - 1];
}

function parts({ plan }: AdoptOutcome): string[][] {
  return plan.variants.map(variant => last(variant).parts.map(part => part.id));
}

function asked({ plan }: AdoptOutcome, code: QuestionCode): string[] {
  return plan.questions
    .filter(question => question.code === code)
    .map(({ part, text }) => `${part ?? ''}: ${text}`);
}

const shell = wedge(30, 20, 12);
const clip = wedge(8, 6, 5, 0.5);

describe('a folder as it lies', () => {
  test('one variant with a part for each mesh; what is said nowhere is asked', async () => {
    const outcome = await lookAt({
      'stl/Shell.stl': shell,
      'stl/Clip_v2.STL': clip,
      'photo.jpg': 'x',
      'not-a-mesh.stl': 'x',
    });
    const { plan } = outcome;
    expect(plan.device).toMatchObject({ id: 'strap-holder', title: 'Strap holder', purpose: null });
    expect(parts(outcome)).toEqual([['clip-v2', 'shell']]);
    expect(last(plan.variants[0]).files.map(file => file.to)).toEqual([
      'parts/Clip_v2.STL',
      'parts/Shell.stl',
    ]);
    expect(plan.leftOut.map(file => file.path)).toEqual(['not-a-mesh.stl']);
    expect(plan.otherFiles).toBe(1);
    expect(plan.questions.map(question => question.code)).toEqual([
      'license',
      'authors',
      'purpose',
      'cautions',
      'left-out',
    ]);
    expect(plan.variants[0].letters).toHaveLength(1);
  });

  test('models, license and README belong to it', async () => {
    const { plan } = await lookAt({
      'README.md': '# Strap holder\n\nHolds a strap.\n\n- Warning: small parts.\n',
      LICENSE: 'MIT License\n\nCopyright (c) 2024 Ada Two\n',
      'stl/shell-left.stl': shell,
      'stl/clip.stl': clip,
      'cad/clip.scad': 'cube();',
      'cad/shell.step': 'x',
      'cad/other.blend': 'x',
      'clip/LICENSE.txt': 'SPDX-License-Identifier: CC-BY-4.0',
      'clip/clip-pin.stl': wedge(3, 9, 7, 0.2),
    });
    expect(plan.device).toMatchObject({ purpose: 'Holds a strap.', cautions: ['Warning: small parts.'] });
    const letter = last(plan.variants[0]);
    expect(letter.license).toBe('MIT');
    expect(letter.parts.map(({ id, source, license }) => [id, source, license])).toEqual([
      ['clip-pin', ['source/clip.scad'], 'CC-BY-4.0'],
      ['clip', ['source/clip.scad'], null],
      ['shell-left', ['source/shell.step'], null],
    ]);
    expect(letter.files.map(file => file.to)).toEqual(
      expect.arrayContaining(['LICENSE', 'LICENSE.txt', 'README.md']),
    );
    expect(asked({ plan, adopted: null }, 'source')).toEqual([
      expect.stringContaining('clip-pin: Is it made from cad/clip.scad?'),
      expect.stringContaining('shell-left: Is it made from cad/shell.step?'),
      ': Which part is made from cad/other.blend?',
    ]);
  });

  test('a mesh that encloses nothing, one that is inside out, several bodies, the same file twice', async () => {
    const inside = { positions: clip.positions, triangles: clip.triangles.toReversed() };
    const two = new Float64Array([
      ...shell.positions,
      ...shell.positions.map((value, i) => (i % 3 === 0 ? value + 99 : value)),
    ]);
    const outcome = await lookAt({
      'open.stl': without(shell, 2),
      'inside.stl': inside,
      'plate.stl': {
        positions: two,
        triangles: new Uint32Array([...shell.triangles, ...shell.triangles.map(v => v + 8)]),
      },
      'a/pad.stl': box(9, 5, 2),
      'b/pad.stl': box(9, 5, 2),
    });
    expect(asked(outcome, 'no-volume').map(text => text.split(':')[0])).toEqual(['inside', 'open']);
    expect(asked(outcome, 'several-bodies')).toEqual([
      expect.stringContaining('plate: The file holds 2 separate bodies'),
    ]);
    expect(asked(outcome, 'same-content')).toEqual([expect.stringContaining('The same file as pad.stl')]);
    expect(parts(outcome)).toEqual([['pad', 'b-pad', 'inside', 'open', 'plate']]);
    expect(last(outcome.plan.variants[0]).files.map(file => file.to)).toContain('parts/b/pad.stl');
  });

  test('without a mesh there is nothing to adopt', async () => {
    await expect(lookAt({ 'README.md': 'x', 'a.stl': 'no mesh' })).rejects.toMatchObject({ code: 'no-mesh' });
    await expect(lookAt({ 'README.md': 'x' })).rejects.toMatchObject({ code: 'no-mesh' });
    await expect(look('https://example.org/x')).rejects.toMatchObject({ code: 'file-not-found' });
  });
});

describe('hands', () => {
  const hands = ({ plan }: AdoptOutcome) =>
    Object.fromEntries(last(plan.variants[0]).parts.map(part => [part.id, part.hand]));

  test('mirror images named left and right, and what is symmetric fits both', async () => {
    const outcome = await lookAt({
      'shell-left.stl': shell,
      'shell-right.stl': mirrored(shell),
      'pad.stl': box(9, 5, 2),
    });
    expect(hands(outcome)).toEqual({ 'shell-left': 'left', 'shell-right': 'right', pad: 'both' });
    expect(asked(outcome, 'hand')).toEqual([]);
  });

  test('named left and right but no mirror images is told', async () => {
    const outcome = await lookAt({ 'shell-left.stl': shell, 'shell-right.stl': wedge(30, 20, 13, 0.2) });
    expect(asked(outcome, 'hand')).toHaveLength(2);
    expect(asked(outcome, 'hand')[0]).toContain('no mirror image of shell-right.stl');
    expect(last(outcome.plan.variants[0]).parts[0].unsettled).toContain('no mirror image');
    const same = await lookAt({ 'shell-left.stl': shell, 'shell-right.stl': split(shell) });
    expect(asked(same, 'hand')[0]).toContain('both are the same shape');
  });

  test('mirror images without such names are found, and asked about', async () => {
    const outcome = await lookAt({ 'one.stl': shell, 'two.stl': mirrored(split(shell)) });
    expect(hands(outcome)).toEqual({ one: null, two: null });
    expect(asked(outcome, 'hand')).toEqual([
      'one: Mirror image of two.stl: which of the two is the left one?',
      'two: Mirror image of one.stl: which of the two is the left one?',
    ]);
    const half = await lookAt({ 'shell-left.stl': shell, 'other.stl': mirrored(shell) });
    expect(hands(half)).toEqual({ other: 'right', 'shell-left': 'left' });
  });

  test('hands in folders of their own are variants, one the mirror of the other', async () => {
    const outcome = await lookAt({
      'left/shell.stl': shell,
      'right/shell.stl': mirrored(shell),
      'clip.stl': box(9, 5, 2),
    });
    expect(outcome.plan.variants.map(variant => variant.id)).toEqual(['left', 'right']);
    expect(parts(outcome)).toEqual([
      ['clip', 'shell'],
      ['clip', 'shell'],
    ]);
    expect(last(outcome.plan.variants[1]).derivations).toMatchObject([
      { variant: 'left', letter: 0, relation: 'mirror' },
    ]);
    expect(asked(outcome, 'derivation')).toHaveLength(1);
  });
});

describe('sizes', () => {
  test('numbers in names, with shapes that grow with them: a variant each, the rest in all', async () => {
    const outcome = await lookAt({
      'cuff_58.stl': shell,
      'cuff_62.stl': wedge(32, 20, 12),
      'lid_58.stl': wedge(30, 20, 3),
      'lid_62.stl': wedge(32, 20, 3),
      'clip.stl': clip,
    });
    expect(outcome.plan.variants.map(({ id, title }) => [id, title])).toEqual([
      ['58', 'Strap holder, 58'],
      ['62', 'Strap holder, 62'],
    ]);
    expect(parts(outcome)).toEqual([
      ['clip', 'cuff', 'lid'],
      ['clip', 'cuff', 'lid'],
    ]);
    expect(last(outcome.plan.variants[0]).files.map(file => file.from)).toEqual([
      'clip.stl',
      'cuff_58.stl',
      'lid_58.stl',
    ]);
    // Parametric sizes are no scaled copies of each other: nothing is claimed.
    expect(last(outcome.plan.variants[1]).derivations).toEqual([]);
    expect(asked(outcome, 'size')).toHaveLength(1);
  });

  test('folders named for sizes', async () => {
    const outcome = await lookAt({
      'large/cuff.stl': scaled(shell, 1.2),
      'small/cuff.stl': shell,
      'small/pin.stl': clip,
      'large/pin.stl': clip,
    });
    expect(outcome.plan.variants.map(variant => variant.id)).toEqual(['small', 'large']);
    expect(parts(outcome)).toEqual([
      ['cuff', 'pin'],
      ['cuff', 'pin'],
    ]);
  });

  test('names alone make no sizes', async () => {
    for (const things of [
      { 'cuff_58.stl': shell, 'cuff_62.stl': clip },
      { 'cuff_58.stl': wedge(32, 20, 12), 'cuff_62.stl': shell },
      { 'pad-1.stl': shell, 'pad-2.stl': wedge(32, 20, 12) },
    ]) {
      const outcome = await lookAt(things);
      expect(outcome.plan.variants.map(variant => variant.id)).toEqual(['standard']);
      expect(asked(outcome, 'size')).toHaveLength(2);
    }
  });

  test('scaled copies make sizes without names, and rescaled ones a link', async () => {
    const outcome = await lookAt({ 'cuff.stl': shell, 'cuff big one.stl': scaled(shell, 1.25) });
    expect(outcome.plan.variants.map(variant => variant.id)).toEqual(['scale-100', 'scale-125']);
    expect(last(outcome.plan.variants[1]).derivations).toMatchObject([
      { variant: 'scale-100', relation: 'rescale', changes: 'Scaled by 1.25.' },
    ]);
    const few = await lookAt({
      'a.stl': shell,
      'b.stl': clip,
      'c.stl': wedge(9, 3, 4),
      'pin.stl': wedge(5, 7, 2),
      'pin long.stl': scaled(wedge(5, 7, 2), 2),
    });
    expect(few.plan.variants).toHaveLength(1);
    expect(asked(few, 'size')).toHaveLength(2);
  });

  test('one variant when that is asked for', async () => {
    const things = { 'cuff_58.stl': shell, 'cuff_62.stl': wedge(32, 20, 12) };
    const outcome = await lookAt(things, { oneVariant: true });
    expect(parts(outcome)).toEqual([['cuff-58', 'cuff-62']]);
  });
});

describe('units', () => {
  const units = ({ plan }: AdoptOutcome) => last(plan.variants[0]).parts.map(part => part.unit);

  test('judged by the largest of all files', async () => {
    const inches = await lookAt({ 'shell.stl': scaled(shell, 1 / 25.4), 'clip.stl': scaled(clip, 1 / 25.4) });
    expect(units(inches)).toEqual(['inch', 'inch']);
    expect(asked(inches, 'unit')).toHaveLength(2);
    expect(last(inches.plan.variants[0]).parts[0].unsettled).toContain('Is it in inches?');
    const meters = await lookAt({ 'shell.stl': scaled(shell, 1 / 1000) });
    expect(units(meters)).toEqual(['meter']);
    const small = await lookAt({ 'shell.stl': shell, 'pin.stl': wedge(2, 1, 1.5) });
    expect(units(small)).toEqual([null, null]);
    expect(asked(small, 'unit')).toEqual([
      expect.stringContaining('pin: Is it in millimeters? It is 2.00 mm large'),
    ]);
  });

  test('as the person says', async () => {
    const said = await lookAt({ 'shell.stl': scaled(shell, 1 / 25.4) }, { unit: 'inch' });
    expect(units(said)).toEqual(['inch']);
    expect(asked(said, 'unit')).toEqual([]);
    expect(units(await lookAt({ 'shell.stl': scaled(shell, 0.1) }, { unit: 'millimeter' }))).toEqual([null]);
  });
});

describe('a history', () => {
  const wide = wedge(32, 20, 12, 0.2);
  const history = () =>
    historyOf(
      ['First parts', { 'parts/shell.stl': shell, 'clip.stl': clip, 'README.md': '# Cuff\n\nHolds.\n' }],
      [
        'Exported again',
        { 'parts/shell.stl': split(shell), 'clip.stl': clip, 'README.md': '# Cuff\n\nHolds a spoon.\n' },
      ],
      ['Wider', { 'parts/shell.stl': wide, 'clip.stl': clip, 'README.md': '# Cuff\n\nHolds a spoon.\n' }],
      ['Renamed', { 'parts/body.stl': wide, 'clip.stl': clip, 'README.md': '# Cuff\n\nHolds a spoon.\n' }],
      ['Licensed', { 'parts/body.stl': wide, 'clip.stl': clip, LICENSE: 'MIT License\n' }],
      ['No clip', { 'parts/body.stl': wide, LICENSE: 'MIT License\n' }],
    );

  test('commits that change a shape, a model or the license are letters; others are folded', async () => {
    const { plan } = await look(history().folder);
    const [variant] = plan.variants;
    expect(variant.letters.map(letter => letter.commits.map(commit => commit.subject))).toEqual([
      ['First parts', 'Exported again'],
      ['Wider', 'Renamed'],
      ['Licensed'],
      ['No clip'],
    ]);
    expect(variant.letters.map(letter => letter.license)).toEqual([null, null, 'MIT', 'MIT']);
    // The part keeps its name through the history, its file the name it had.
    expect(variant.letters.map(letter => letter.parts.map(part => [part.id, part.mesh]))).toEqual([
      [
        ['body', 'parts/shell.stl'],
        ['clip', 'parts/clip.stl'],
      ],
      [
        ['body', 'parts/body.stl'],
        ['clip', 'parts/clip.stl'],
      ],
      [
        ['body', 'parts/body.stl'],
        ['clip', 'parts/clip.stl'],
      ],
      [['body', 'parts/body.stl']],
    ]);
    expect(variant.letters.map(letter => letter.changes)).toEqual([
      ['First parts'],
      ['Wider', expect.stringMatching(/^body: reworked; \+[0-9.]+ mm³/)],
      ['Licensed', 'LICENSE: added', 'README.md: removed'],
      ['No clip', 'clip: removed'],
    ]);
    const now = await look(history().folder, { noHistory: true });
    expect(now.plan.variants[0].letters).toHaveLength(1);
    const then = await look(history().folder, { at: 'HEAD~3' });
    expect(then.plan.variants[0].letters).toHaveLength(2);
  });

  test('each variant has the letters and the authors of its own changes', async () => {
    const repository = historyOf([
      'First',
      { 'small/cuff.stl': shell, 'large/cuff.stl': scaled(shell, 1.2) },
    ]);
    repository.write('large/cuff.stl', stl(scaled(wide, 1.2)));
    repository.git('add', '-A');
    repository.git('commit', '-q', '--author', 'Ada Two <ada@example.org>', '-m', 'Wider');
    const { plan } = await look(repository.folder);
    expect(
      plan.variants.map(({ id, letters }) => [
        id,
        letters.map(letter => letter.authors.map(person => person.name)),
      ]),
    ).toEqual([
      ['small', [['Robin Sample']]],
      ['large', [['Robin Sample'], ['Robin Sample', 'Ada Two']]],
    ]);
    expect(plan.variants[0].letters[0].commits).toHaveLength(1);
    expect(plan.variants[1].letters[1].changes).toEqual(['Wider', expect.stringMatching(/^cuff: /)]);
  });

  test('what is not committed is told and not taken', async () => {
    const repository = history();
    repository.write('parts/body.stl', stl(shell));
    repository.write('new.stl', stl(clip));
    const { plan } = await look(repository.folder);
    expect(plan.notes).toMatchObject([
      { code: 'uncommitted', text: expect.stringContaining('new.stl, parts/body.stl') as string },
    ]);
    expect(parts({ plan, adopted: null })).toEqual([['body']]);
  });

  test('a folder that its repository does not keep is taken as it lies', async () => {
    const repository = temporaryWith('kept.stl');
    repository.write('loose/shell.stl', stl(shell));
    const { plan } = await look(path.join(repository.folder, 'loose'));
    expect(plan.source.commit).toBeNull();
  });

  const temporaryWith = (file: string) => historyOf(['First', { [file]: clip }]);
});

describe('kinprint adopt', () => {
  test('makes a device that check accepts, with its history as revisions', async () => {
    const registry = emptyRegistry();
    const source = historyOf(
      [
        'First parts',
        { 'left/shell.stl': shell, 'right/shell.stl': mirrored(shell), LICENSE: 'MIT License\n' },
      ],
      [
        'Wider',
        {
          'left/shell.stl': wedge(32, 20, 12),
          'right/shell.stl': mirrored(wedge(32, 20, 12)),
          LICENSE: 'MIT License\n',
        },
      ],
    );
    const before = registry.git('rev-parse', 'HEAD');
    const dry = await runCli(
      ['adopt', source.folder, '--device', 'cuff', '--dry-run', '--json'],
      registry.folder,
    );
    expect(dry).toMatchObject({ code: 0, err: '' });
    expect(objections('adopt', JSON.parse(dry.out))).toEqual([]);
    expect(registry.git('rev-parse', 'HEAD')).toBe(before);
    expect(readdirSync(registry.folder).sort()).toEqual(['.git', '.gitattributes', 'registry.yaml']);

    const done = await runCli(['adopt', source.folder, '--device', 'cuff', '--json'], registry.folder);
    expect(done).toMatchObject({ code: 0, err: '' });
    const json = JSON.parse(done.out) as {
      variants: { address: string; revisions: { letter: string; digest: string }[] }[];
    };
    expect(objections('adopt', json)).toEqual([]);
    expect(
      json.variants.map(({ address, revisions }) => [address, revisions.map(revision => revision.letter)]),
    ).toEqual([
      ['cuff/left', ['A', 'B']],
      ['cuff/right', ['A', 'B']],
    ]);
    expect(registry.git('status', '--porcelain')).toBe('');
    expect(registry.git('log', '--format=%s by %an', `${before}..`)).toBe(
      'cuff: revisions left@B, right@B by Lena Birkholt\ncuff: revisions left@A, right@A by Lena Birkholt',
    );
    expect(registry.git('log', '-1', '--format=%b')).toContain(source.git('rev-parse', 'HEAD'));
    // What is in the history is what was there, byte for byte.
    const blob = source.git('rev-parse', 'HEAD~1:right/shell.stl');
    expect(registry.git('rev-parse', 'HEAD~1:devices/cuff/right/parts/shell.stl')).toBe(blob);

    const manifest = readFileSync(path.join(registry.folder, 'devices/cuff/right/variant.yaml'), 'utf8');
    const read = readDocument('variant', manifest, 'variant.yaml');
    expect(read.problems).toEqual([]);
    expect(read.value).toMatchObject({
      license: 'MIT',
      authors: [{ name: 'Robin Sample' }],
      revisions: [
        { letter: 'A', date: '2024-05-01', by: 'Robin Sample' },
        { letter: 'B', digest: json.variants[1].revisions[1].digest },
      ],
    });
    expect(manifest).not.toContain('robin@example.org');
    const check = await runCli(['check', '--no-cache', '--json'], registry.folder);
    expect(check.code).toBe(0);
    expect(JSON.parse(check.out)).toMatchObject({ counts: { errors: 0 } });
  });

  test('the text fits 80 columns and says what to settle, most important first', async () => {
    const source = folderOf('Cuff', {
      'README.md': '# Cuff \u001b[31mred\n\nHolds.\n',
      'shell-left.stl': shell,
      [`${'very long name '.repeat(8)}.stl`]: clip,
    });
    const { code, out } = await runCli(['adopt', source, '--dry-run'], emptyRegistry().folder);
    expect(code).toBe(0);
    expect(out.split('\n').filter(line => [...line].length > 80)).toEqual([]);
    expect(out).not.toContain('\u001b');
    expect(out.indexOf('  license  ')).toBeLessThan(out.indexOf('  hand  '));
    expect(out).toContain('Dry run: nothing was written.');
  });

  test('overwrites nothing', async () => {
    const registry = emptyRegistry();
    const source = folderOf('Cuff', { 'shell.stl': shell });
    registry.write('devices/cuff/note.txt', 'mine');
    const here = await runCli(['adopt', source], registry.folder);
    expect(here).toMatchObject({ code: 2, out: '' });
    expect(here.err).toContain("There is a device 'cuff' already.");
    expect(existsSync(path.join(registry.folder, 'devices/cuff/shell.stl'))).toBe(false);
    registry.commit('mine');
    registry.git('rm', '-q', '-r', 'devices');
    expect((await runCli(['adopt', source], registry.folder)).err).toContain('in the last commit');
    expect((await runCli(['adopt', source, '--device', 'Cuff!'], registry.folder)).code).toBe(2);
    expect((await runCli(['adopt', source, '--device', 'cuff-2'], registry.folder)).code).toBe(0);
  });

  test('needs a registry, and says how to make one', async () => {
    const source = folderOf('Cuff', { 'shell.stl': shell });
    const { code, err } = await runCli(['adopt', source], path.dirname(source));
    expect(code).toBe(2);
    expect(err).toContain('kinprint start');
  });

  test('a repository that is to become a registry itself', async () => {
    const repository = historyOf(
      ['First', { 'stl/shell.stl': shell }],
      ['Wider', { 'stl/shell.stl': wedge(32, 20, 12), 'registry.yaml': 'kinprint: registry/1\nname: Own\n' }],
    );
    repository.git('config', 'user.name', 'Lena Birkholt');
    repository.git('config', 'user.email', 'lena@example.org');
    const { code, err } = await runCli(['adopt', '.', '--device', 'cuff'], repository.folder);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(repository.git('ls-files').split('\n')).toEqual([
      'devices/cuff/device.yaml',
      'devices/cuff/standard/parts/shell.stl',
      'devices/cuff/standard/variant.yaml',
      'registry.yaml',
      'stl/shell.stl',
    ]);
    // Again, and what was adopted is not looked at.
    const again = await runCli(['adopt', '.', '--device', 'cuff-2', '--json'], repository.folder);
    expect((JSON.parse(again.out) as { variants: unknown[] }).variants).toHaveLength(1);
    expect(repository.git('status', '--porcelain')).toBe('');
  });
});
