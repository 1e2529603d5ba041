import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Review } from '@kinprint/registry';
import { joined } from '../../packages/mesh/src/testing/motions.ts';
import { plateWithHoles } from '../../packages/mesh/src/testing/plate.ts';
import { box } from '../../packages/mesh/src/testing/shapes.ts';
import { gitIn, removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { demoRegistry } from '../support/demo-registry.ts';
import { temporaryFolder } from '../support/meshes.ts';
import { publishedObjections } from '../support/published-schemas.ts';
import { runCli } from '../support/run-cli.ts';
import { review, twoStates } from './support.ts';

const demo = temporaryFolder();
beforeAll(() => demoRegistry(demo.path), 120_000);
afterAll(() => {
  demo.remove();
  removeTemporaryFolders();
});

const shell = 'parts:\n  - id: shell\n    mesh: parts/shell.stl\n';
const codes = ({ findings }: Review): string[] => findings.map(({ code }) => code);

describe('kinprint review', () => {
  it('says nothing of a branch that changes nothing', async () => {
    const registry = twoStates(
      r => r.variant('left', shell, { 'shell.stl': box(20, 30, 10) }),
      () => undefined,
    );
    const { review: answer, text, exit } = await review(registry);
    expect(answer).toMatchObject({ decision: 'nothing', variants: [], findings: [] });
    expect(text).toContain('There is no change to review.');
    expect(exit).toBe(0);
  });

  it('counts from where the branches parted', async () => {
    const registry = twoStates(
      r => r.variant('left', shell, { 'shell.stl': box(20, 30, 10) }),
      r => r.variant('right', shell, { 'shell.stl': box(21, 30, 10) }),
    );
    registry.variant('middle', shell, { 'shell.stl': box(22, 30, 10) });
    gitIn(registry.folder, 'add', '-A');
    gitIn(registry.folder, 'commit', '-q', '-m', 'Meanwhile');
    const { review: answer } = await review(registry);
    expect(answer.variants.map(({ address, change }) => [address, change])).toEqual([
      ['cuff/right', 'added'],
    ]);
    expect(answer.commits).toEqual({ after: 1, elsewhere: 1, shared: true });
  });

  it('looks at the folder where no second revision is named', async () => {
    const registry = twoStates(
      r => r.variant('left', shell, { 'shell.stl': box(20, 30, 10) }),
      () => undefined,
    );
    registry.variant('left', shell, { 'shell.stl': joined(box(20, 30, 10), box(4, 5, 6, [3, 3, 10])) });
    const { review: answer } = await review(registry, 'main');
    expect(answer.after).toEqual({ name: 'the working copy', commit: null });
    expect(answer.variants[0].parts[0].verdict).toBe('reworked');
    // 4 × 5 × 6 mm more.
    expect(answer.variants[0].parts[0].comparison?.volume.added_mm3).toBeCloseTo(120, 3);
  });

  it('judges by the policy of before, whatever the change makes of it', async () => {
    const wide = plateWithHoles(40, 20, 5, [{ x: 10, y: 10, r: 2.5, sides: 64 }]);
    const narrow = plateWithHoles(40, 20, 5, [{ x: 10, y: 10, r: 1.6, sides: 64 }]);
    const lines = `${shell}    interfaces:\n      - { id: pivot, kind: bore, nominal_mm: 3.2, at_mm: [10, 10, 0] }\n`;
    const lax = 'policy:\n  review:\n    pass: [not-interchangeable, interface-differs, interface-missing]\n';
    const strict = twoStates(
      r => r.variant('left', lines, { 'shell.stl': narrow }),
      r => {
        r.variant('left', lines, { 'shell.stl': wide });
        r.write('registry.yaml', `kinprint: registry/1\nname: Utensil-cuff lending group\n${lax}`);
      },
    );
    const first = await review(strict);
    expect(first.exit).toBe(1);
    expect(codes(first.review)).toContain('policy-changed');
    const blocking = first.review.findings.filter(({ blocks }) => blocks).map(({ code }) => code);
    expect(blocking).toContain('not-interchangeable');

    const loose = twoStates(
      r => r.variant('left', lines, { 'shell.stl': narrow }),
      r => r.variant('left', lines, { 'shell.stl': wide }),
      lax,
    );
    const second = await review(loose);
    expect(second.review.counts.blocking).toBe(0);
    expect(codes(second.review)).toContain('not-interchangeable');
    expect(second.exit).toBe(0);
  });

  it('tells who is no longer named, another license, rewritten evidence, and files that are not its business', async () => {
    const registry = twoStates(
      r => {
        r.variant('left', shell, { 'shell.stl': box(20, 30, 10) });
        r.write('vetting/cuff/left/A/trial.yaml', 'kinprint: evidence/1\n');
        r.write('tools/run.sh', 'true\n');
      },
      (r, remove) => {
        const head = 'kinprint: variant/1\ntitle: Cuff\nlicense: CC0-1.0\nauthors:\n  - name: Kim Sample\n';
        r.write('devices/cuff/left/variant.yaml', head + shell);
        r.write('tools/run.sh', 'false\n');
        remove('vetting/cuff/left/A/trial.yaml');
      },
    );
    const { review: answer, exit } = await review(registry);
    for (const code of ['author-dropped', 'license-changed', 'vetting-rewritten', 'other-files'])
      expect(codes(answer)).toContain(code);
    const dropped = answer.findings.find(({ code }) => code === 'author-dropped');
    expect(dropped).toMatchObject({ file: 'devices/cuff/left/variant.yaml', line: 4, blocks: true });
    expect(dropped?.text).toContain('Robin Sample');
    expect(answer.files).toContainEqual({ path: 'tools/run.sh', change: 'changed', kind: 'other' });
    expect(exit).toBe(1);
  });

  it('tells which sign-offs lapse', async () => {
    const registry = twoStates(
      r => r.variant('left', shell, { 'shell.stl': box(20, 30, 10) }),
      () => undefined,
    );
    // The digest is known once the variant is there.
    const { digest } = JSON.parse((await runCli(['show', 'cuff/left', '--json'], registry.folder)).out) as {
      digest: string;
    };
    registry.write(
      'vetting/cuff/left/A/clinician.yaml',
      `kinprint: signoff/1\ndigest: ${digest}\nrevision: cuff/left@A\nrole: licensed-clinician\nby: Kim Sample\ndate: 2026-03-14\ndecision: accept\nstatement: Looked at fit and edges.\n`,
    );
    gitIn(registry.folder, 'add', '-A');
    gitIn(registry.folder, 'commit', '-q', '-m', 'Sign-off');
    registry.variant('left', shell, { 'shell.stl': box(20, 30, 11) });
    const { review: answer, text } = await review(registry, 'main');
    expect(answer.variants[0].signoffs).toMatchObject([{ by: 'Kim Sample', state: 'lapses' }]);
    expect(codes(answer)).toContain('sign-off-lapses');
    expect(text).toContain('sign-off lapses: Kim Sample, licensed-clinician, 2026-03-14');
    registry.variant('left', `${shell}summary: Not the same words.\n`, { 'shell.stl': box(20, 30, 10) });
    const reworded = await review(registry, 'main');
    expect(reworded.review.variants[0].signoffs).toMatchObject([{ state: 'lapses' }]);
  });

  it('pairs a part that was renamed by its shape', async () => {
    const registry = twoStates(
      r =>
        r.variant('left', shell, {
          'shell.stl': plateWithHoles(40, 20, 5, [{ x: 10, y: 10, r: 1.6, sides: 64 }]),
        }),
      (r, remove) => {
        remove('devices/cuff/left/parts/shell.stl');
        r.variant('left', 'parts:\n  - id: base\n    mesh: parts/base.stl\n', {
          'base.stl': joined(
            plateWithHoles(40, 20, 5, [{ x: 10, y: 10, r: 1.6, sides: 64 }]),
            box(8, 8, 6, [28, 6, 5]),
          ),
        });
      },
    );
    const { review: answer } = await review(registry);
    expect(answer.variants[0].parts).toMatchObject([
      { id: 'base', was: 'shell', pairing: 'shape', verdict: 'reworked' },
    ]);
  });

  it('looks at two letters of a variant, and at two variants', async () => {
    const { exit, review: letters } = await review(
      { folder: demo.path },
      'utensil-cuff/right-58@A',
      'utensil-cuff/right-58@B',
      '--no-shapes',
    );
    const [variant] = letters.variants;
    expect(variant).toMatchObject({
      change: 'changed',
      letter: { before: 'A', after: 'B' },
      step: 'variant',
    });
    // The demo's second letter has its hinge bores drilled for a screw that forms its thread: 3.2 became 3.0 mm.
    const bores = variant.parts.flatMap(part => part.interfaces.filter(({ id }) => id === 'hinge-bore'));
    expect(bores.map(({ state }) => state)).toEqual(['differs', 'differs']);
    for (const { measured_mm } of bores) {
      expect(measured_mm.before).toBeCloseTo(3.2, 1);
      expect(measured_mm.after).toBeCloseTo(3, 1);
    }
    expect(exit).toBe(1);

    const beside = await review(
      { folder: demo.path },
      'utensil-cuff/right-58',
      'utensil-cuff/right-62',
      '--no-shapes',
    );
    expect(beside.review.variants[0]).toMatchObject({
      change: 'added',
      against: { address: 'utensil-cuff/right-58', relation: null },
      derivations: [],
    });
    expect(beside.exit).toBe(0);
  }, 120_000);

  it.each([
    ['cuff/left', 'A', 'no address of a variant'],
    ['cuff/left', 'cuff/nobody', 'no variant'],
    ['cuff/left@Z', 'cuff/left', 'no revision'],
  ])('%s and %s are refused', async (before, after, words) => {
    const registry = twoStates(
      r => r.variant('left', shell, { 'shell.stl': box(20, 30, 10) }),
      () => undefined,
    );
    const { code, err } = await runCli(['review', before, after], registry.folder);
    expect(code).toBe(2);
    expect(err).toContain(words);
  });

  it('reads commits that are not checked out: of a bare repository too', async () => {
    const registry = twoStates(
      r => r.variant('left', shell, { 'shell.stl': box(20, 30, 10) }),
      r => r.variant('right', shell, { 'shell.stl': box(21, 30, 10) }),
    );
    const bare = temporaryFolder();
    gitIn(registry.folder, 'clone', '-q', '--bare', registry.folder, path.join(bare.path, 'bare.git'));
    const args = ['review', 'main..change', '--no-cache', '--json', '--registry', 'bare.git'];
    const { out, err } = await runCli(args, bare.path);
    expect(err).toBe('');
    const answer = JSON.parse(out) as Review;
    expect(answer.variants.map(({ address }) => address)).toEqual(['cuff/right']);
    const folder = await runCli(['review', 'main', '--registry', 'bare.git'], bare.path);
    expect([folder.code, folder.err]).toEqual([2, expect.stringContaining('There is no registry.yaml')]);
    bare.remove();
  });

  it.each(['javascript:alert(1)//', 'data:text/html,x'])('pictures at %s are refused', async url => {
    const registry = twoStates(
      r => r.variant('left', shell, { 'shell.stl': box(20, 30, 10) }),
      () => undefined,
    );
    const args = ['review', 'main..change', '--markdown', 'r.md', '--picture-url', url];
    const { code, err } = await runCli(args, registry.folder);
    expect(code).toBe(2);
    expect(err).toContain('no address of pictures');
    expect(existsSync(path.join(registry.folder, 'r.md'))).toBe(false);
  });

  it('links of pictures elsewhere cannot end early, and a file in the way of their folder is told', async () => {
    const registry = twoStates(
      r => r.variant('left', shell, { 'shell.stl': box(20, 30, 10) }),
      r => r.variant('right', shell, { 'shell.stl': box(21, 30, 10) }),
    );
    const args = ['review', 'main..change', '--markdown', 'r.md'];
    const { err } = await runCli([...args, '--picture-url', 'https://example.org/a) b/'], registry.folder);
    expect(err).toBe('');
    const text = readFileSync(path.join(registry.folder, 'r.md'), 'utf8');
    expect(text).toContain('(https://example.org/a%29%20b/cuff-right-shell.png)');
    registry.write('s-pictures', 'a file');
    const refused = await runCli([...args.slice(0, 3), 's.md'], registry.folder);
    expect(refused.code).toBe(2);
    expect(refused.err).toContain('something else has its name');
  });

  it.each([
    ['main..nowhere', 'revision-unknown', 2],
    ['main..change:devices', 'names a path', 2],
    ['main...change', 'Three dots', 2],
  ])('%s is refused', async (change, words, exit) => {
    const registry = twoStates(
      r => r.variant('left', shell, { 'shell.stl': box(20, 30, 10) }),
      () => undefined,
    );
    const { code, err } = await runCli(['review', change], registry.folder);
    expect(code).toBe(exit);
    expect(err).toMatch(words === 'revision-unknown' ? /no commit 'nowhere'/ : new RegExp(words));
  });
});

describe('a submission to the demo registry', () => {
  const out = temporaryFolder();
  afterAll(() => out.remove());
  const at = (name: string): string => path.join(out.path, name);
  let answer: Review;
  beforeAll(async () => {
    const files = ['--markdown', at('review.md'), '--sarif', at('review.sarif'), '--junit', at('review.xml')];
    const { code, out: json } = await runCli(['review', 'main..submission', '--json', ...files], demo.path);
    expect(code).toBe(1);
    answer = JSON.parse(json) as Review;
  }, 180_000);

  it('shows each changed part in the Markdown with a picture that is there', () => {
    const text = readFileSync(at('review.md'), 'utf8');
    const links = [...text.matchAll(/!\[[^\]]+\]\(([^)]+)\)/g)].map(match => match[1]);
    expect(links.length).toBeGreaterThanOrEqual(4);
    for (const link of links) expect(existsSync(at(decodeURI(link))), link).toBe(true);
    expect(text).toMatch(/^## main → submission\n\n\*\*Blocked\.\*\* \d+ findings stand in the way\.\n/);
    // No cell breaks its table.
    for (const line of text.split('\n').filter(each => each.startsWith('| ')))
      expect(line.replaceAll('\\|', '').split('|').length).toBeGreaterThan(4);
  });

  it('writes SARIF that its published schema takes, at the lines of manifests', () => {
    const log = JSON.parse(readFileSync(at('review.sarif'), 'utf8')) as {
      runs: { results: { ruleId: string; locations: unknown[] }[] }[];
    };
    expect(publishedObjections('sarif', log)).toEqual([]);
    expect(log.runs[0].results).toHaveLength(answer.findings.length);
    expect(log.runs[0].results.map(({ ruleId }) => ruleId)).toContain('check/license-wrong');
  });

  it('writes a test report that counts what blocks as failures', () => {
    const text = readFileSync(at('review.xml'), 'utf8');
    const total = /<testsuites [^>]*tests="(\d+)" failures="(\d+)"/.exec(text);
    expect(Number(total?.[2])).toBe(answer.counts.blocking);
    expect(text.match(/<failure /g)).toHaveLength(answer.counts.blocking);
    expect(text.match(/<testcase /g)).toHaveLength(Number(total?.[1]));
  });
});
