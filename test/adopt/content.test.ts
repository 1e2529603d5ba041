import path from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { box, without } from '../support/meshes.ts';
import { asked, last, look, lookAt, parts } from './look.ts';
import { historyOf, scaled, split, stl, wedge } from './things.ts';

afterAll(removeTemporaryFolders);

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
    expect(asked({ plan }, 'source')).toEqual([
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
    expect(parts({ plan })).toEqual([['body']]);
  });

  test('a folder that its repository does not keep is taken as it lies', async () => {
    const repository = temporaryWith('kept.stl');
    repository.write('loose/shell.stl', stl(shell));
    const { plan } = await look(path.join(repository.folder, 'loose'));
    expect(plan.source.commit).toBeNull();
  });

  const temporaryWith = (file: string) => historyOf(['First', { [file]: clip }]);
});
