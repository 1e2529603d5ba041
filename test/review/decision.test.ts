import { readFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { box } from '../../packages/mesh/src/testing/shapes.ts';
import type { SmallRegistry } from '../../packages/registry/src/testing/small-registry.ts';
import { gitIn, removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { prepare } from '../prepare/support.ts';
import { runCli } from '../support/run-cli.ts';
import { review, twoStates } from './support.ts';

afterAll(removeTemporaryFolders);

const shell = 'parts:\n  - id: shell\n    mesh: parts/shell.stl\n';
const left = (r: SmallRegistry): void => r.variant('left', shell, { 'shell.stl': box(20, 30, 10) });
const digest = `sha256:${'0'.repeat(64)}`;
const flowing = (text: string): string => text.replace(/\s+/g, ' ');

describe('the answer of a review', () => {
  it('says what a branch brings that changes no design', async () => {
    const registry = twoStates(left, r => {
      r.write(
        'vetting/cuff/left/A/clinician.yaml',
        `kinprint: signoff/1\ndigest: ${digest}\nrevision: cuff/left@A\nrole: licensed-clinician\nby: Kim Sample\ndate: 2026-03-14\ndecision: accept\nstatement: Looked at fit and edges.\n`,
      );
      r.write('vetting/cuff/left/A/photo.txt', 'A note.');
      r.write('notes.txt', 'A file outside of the registry.');
    });
    const { review: answer, text, exit } = await review(registry);
    expect(exit).toBe(0);
    expect(answer).toMatchObject({ decision: 'clear', variants: [] });
    expect(answer.files.map(({ path: file, kind }) => [file, kind])).toEqual([
      ['notes.txt', 'other'],
      ['vetting/cuff/left/A/clinician.yaml', 'signoff'],
      ['vetting/cuff/left/A/photo.txt', 'other'],
    ]);
    const words = 'No design changed, so nothing is to be reprinted; it brings 1 sign-off and 2 other files.';
    expect(flowing(text)).toContain(`Clear. Nothing speaks against it, as far as files tell. ${words}`);
    gitIn(registry.folder, 'checkout', '-q', 'change');
    // What lies beside the registry's own folders is not looked at in a working copy.
    expect(flowing((await prepare(registry.folder)).text)).toContain(
      'it brings 1 sign-off and 1 other file.',
    );
  });

  it('says in every output that nothing is to be reprinted', { timeout: 60_000 }, async () => {
    const registry = twoStates(left, r =>
      r.variant('left', `summary: Holds a spoon.\n${shell}`, { 'shell.stl': box(20, 30, 10) }),
    );
    const { text } = await review(registry, 'main..change', '--markdown', 'r.md', '--html', 'r.html');
    gitIn(registry.folder, 'checkout', '-q', 'change');
    const prepared = await runCli(['prepare', '--output', 's.md'], registry.folder);
    const file = (name: string): string => readFileSync(path.join(registry.folder, name), 'utf8');
    for (const each of [text, prepared.out, file('r.md'), file('s.md'), file('r.html')])
      expect(each).toContain('Nothing to reprint.');
    expect(flowing(text)).toContain('It brings 1 changed variant.');
  });

  it('says nothing of swapping where a variant is taken away', async () => {
    const registry = twoStates(left, (_, remove) => remove('devices/cuff/left'));
    const { text } = await review(registry);
    expect(text).toContain('Cuff; taken away');
    expect(text).not.toContain('swap');
  });

  it('says that no part could be looked at where a manifest cannot be read', async () => {
    const registry = twoStates(left, r => r.write('devices/cuff/left/variant.yaml', 'kinprint: [\n'));
    const { text } = await review(registry);
    expect(text).toContain('None of its parts could be looked at; the findings say why.');
  });

  it('leaves no cell of such a variant empty', { timeout: 120_000 }, async () => {
    const registry = twoStates(left, r => {
      r.write('devices/cuff/left/variant.yaml', 'kinprint: [\n');
      r.variant('wide', shell, { 'shell.stl': box(22, 33, 11) });
    });
    const outputs = ['--no-shapes', '--markdown', 'r.md', '--html', 'r.html'];
    const { text } = await review(registry, 'main..change', ...outputs);
    const file = (name: string): string => readFileSync(path.join(registry.folder, name), 'utf8');
    expect(text).toMatch(/^ {2}cuff\/left +cannot be judged +\d+ in the way$/m);
    expect(file('r.md')).toMatch(
      /^\| cuff\/left \| [^|]+ \| cannot be judged \| — \| cannot be judged \| \d+ \|$/m,
    );
    expect(file('r.html').match(/<td[^>]*>cannot be judged<\/td>/g)).toHaveLength(2);
  });

  it(
    'of a manifest with a bad line says until when nothing is offered for it',
    { timeout: 120_000 },
    async () => {
      const registry = twoStates(left, r =>
        r.write(
          'devices/cuff/left/variant.yaml',
          'kinprint: variant/1\ntitle: [Cuff]\nparts:\n  - { id: shell, mesh: parts/shell.stl }\n',
        ),
      );
      gitIn(registry.folder, 'checkout', '-q', 'change');
      const prepared = await prepare(registry.folder, '--add', '--no-shapes', '--output', 's.md');
      const words = 'Nothing can be offered or written until devices/cuff/left/variant.yaml:2:1 can be read.';
      expect(flowing(prepared.text).split(words)).toHaveLength(2);
      expect(readFileSync(path.join(registry.folder, 's.md'), 'utf8').split(words)).toHaveLength(2);
    },
  );

  it.each([
    [
      'left',
      'wide',
      'They do not all swap. Not all parts of cuff/left and cuff/wide serve for each other; see each part for why.',
    ],
    [
      'left',
      'same',
      'They swap. The parts of cuff/left and cuff/same serve for each other, as far as files tell.',
    ],
  ])('of %s and %s is whether they swap', async (one, two, words) => {
    const registry = twoStates(
      r => {
        left(r);
        r.variant('wide', shell, { 'shell.stl': box(22, 33, 11) });
        r.variant('same', shell, { 'shell.stl': box(20, 30, 10) });
      },
      () => undefined,
    );
    const both = [`cuff/${one}`, `cuff/${two}`] as const;
    const { text } = await review(registry, ...both, '--no-shapes', '--markdown', 'r.md');
    expect(flowing(text)).toContain(words);
    const markdown = readFileSync(path.join(registry.folder, 'r.md'), 'utf8');
    expect(markdown).toContain(words.replace('. ', '.** '));
    for (const each of [text, markdown]) expect(each).not.toMatch(/Clear|Blocked|In the way/);
  });
});
