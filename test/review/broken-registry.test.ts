import { symlinkSync } from 'node:fs';
import path from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import type { Review } from '@kinprint/registry';
import { box } from '../../packages/mesh/src/testing/shapes.ts';
import type { SmallRegistry } from '../../packages/registry/src/testing/small-registry.ts';
import { gitIn, removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { prepare } from '../prepare/support.ts';
import { runCli } from '../support/run-cli.ts';
import { review, twoStates } from './support.ts';

afterAll(removeTemporaryFolders);

const shell = 'parts:\n  - id: shell\n    mesh: parts/shell.stl\n';
const whole = 'kinprint: registry/1\nname: Utensil-cuff lending group\n';
/** A list that never ends; what comes after its second line cannot be read. */
const torn = `${whole}policy: [\n`;
const lax = `${whole}policy:\n  review:\n    pass: [not-interchangeable]\n`;

type Write = Parameters<typeof twoStates>[1];
const left = (height: number) => (r: SmallRegistry) =>
  r.variant('left', shell, { 'shell.stl': box(20, 30, height) });
const states = (before: Write, after: Write): SmallRegistry =>
  twoStates(r => {
    left(10)(r);
    before(r, () => undefined);
  }, after);
const registryAs =
  (text: string): Write =>
  r =>
    r.write('registry.yaml', text);

function blocking({ findings }: Review): (readonly [string, string | null, number | null])[] {
  return findings.filter(({ blocks }) => blocks).map(({ code, file, line }) => [code, file, line] as const);
}

describe('a registry.yaml that cannot be used', () => {
  it('blocks with its place and a remedy where HEAD broke it, and takes the policy of BASE', async () => {
    const registry = states(registryAs(lax), r => {
      registryAs(torn)(r, () => undefined);
      left(12)(r);
    });
    const { review: answer, exit, text } = await review(registry);
    expect(exit).toBe(1);
    // BASE lets pass that old and new do not swap.
    expect(blocking(answer)).toEqual([['yaml-syntax', 'registry.yaml', expect.any(Number)]]);
    expect(answer.findings.find(({ code }) => code === 'yaml-syntax')?.remedy).not.toBe('');
    expect(answer.findings.map(({ code }) => code)).toContain('not-interchangeable');
    expect(answer.registry).toBe('Utensil-cuff lending group');
    expect(text).toContain('In the way\n  error, blocks  yaml-syntax\n    registry.yaml:');
    gitIn(registry.folder, 'checkout', '-q', 'change');
    const prepared = await prepare(registry.folder);
    expect(blocking(prepared.answer.review)).toEqual(blocking(answer));
    expect(prepared.text).toMatch(/^Not ready to send\. 1 finding stands in the way\./);
  });

  it('is not told as a license that changed or is missing', async () => {
    const bare = `kinprint: variant/1\ntitle: Cuff\nauthors:\n  - name: Robin Sample\n${shell}`;
    const licensed = `${whole}license: CC-BY-4.0\n`;
    const registry = states(
      r => {
        r.write('registry.yaml', licensed);
        r.write('devices/cuff/left/variant.yaml', bare);
      },
      r => {
        r.write('registry.yaml', `${licensed}policy: [\n`);
        r.write('devices/cuff/left/variant.yaml', `${bare}summary: Holds a spoon.\n`);
      },
    );
    const { review: answer } = await review(registry);
    const codes = answer.findings.map(({ code }) => code);
    expect(codes).toContain('yaml-syntax');
    expect(codes.filter(code => code.includes('license'))).toEqual([]);
  });

  it('is read as far as it can be: another mistake in it does not loosen its policy', async () => {
    const odd = `${whole}printers: 3\npolicy:\n  review:\n    block: [error, policy-changed]\n`;
    const registry = states(registryAs(odd), registryAs(lax));
    const { review: answer, exit } = await review(registry);
    expect(blocking(answer)).toEqual([['policy-changed', 'registry.yaml', null]]);
    expect(exit).toBe(1);
  });

  it('is judged by the usual policy where BASE had it broken, and HEAD mends it', async () => {
    const registry = states(registryAs(torn), r => {
      registryAs(lax)(r, () => undefined);
      left(12)(r);
    });
    gitIn(registry.folder, 'checkout', '-q', 'change');
    const { review: answer, exit } = await review(registry);
    // What HEAD lets pass is not what it is judged by.
    expect(blocking(answer).map(([code]) => code)).toEqual(['not-interchangeable']);
    const changed = answer.findings.find(({ code }) => code === 'policy-changed');
    expect(changed?.remedy).toContain('none before that can be used');
    expect(exit).toBe(1);
  });

  it('blocks also where BASE had it broken already', async () => {
    const registry = states(registryAs(torn), r =>
      r.write('devices/cuff/device.yaml', 'kinprint: device/1\ntitle: A\npurpose: B.\n'),
    );
    const { review: answer } = await review(registry);
    expect(blocking(answer).map(([code, file]) => [code, file])).toEqual([['yaml-syntax', 'registry.yaml']]);
    expect(answer.registry).toBe('A registry without a name that can be read');
    gitIn(registry.folder, 'checkout', '-q', 'change');
    expect((await prepare(registry.folder)).answer.ready).toBe(false);
  });
});

describe('a registry.yaml that is not there', () => {
  it('blocks where HEAD took it away, with all else', async () => {
    const registry = states(
      () => undefined,
      (_, remove) => {
        remove('registry.yaml');
        remove('devices');
      },
    );
    const { review: answer, exit, text } = await review(registry);
    expect(exit).toBe(1);
    expect(blocking(answer)).toEqual([['registry-missing', 'registry.yaml', null]]);
    expect(answer.variants).toMatchObject([{ address: 'cuff/left', change: 'removed' }]);
    expect(answer.findings.map(({ code }) => code)).toEqual(['registry-missing', 'variant-removed']);
    // Nothing swaps with what is gone.
    expect(text).not.toContain('swap');
    gitIn(registry.folder, 'checkout', '-q', 'change');
    const { code, err } = await runCli(['prepare'], registry.folder);
    expect(code).toBe(2);
    expect(err).toContain('There is no registry.yaml here');
  });

  it('is judged by the usual policy where BASE had none, and refused where neither has one', async () => {
    const registry = twoStates(
      (r: SmallRegistry) => left(10)(r),
      r => registryAs(lax)(r, () => undefined),
    );
    gitIn(registry.folder, 'checkout', '-q', '--orphan', 'bare');
    gitIn(registry.folder, 'rm', '-q', '--cached', 'registry.yaml');
    gitIn(registry.folder, 'commit', '-q', '-m', 'Without');
    gitIn(registry.folder, 'checkout', '-q', '-f', 'change');
    const { review: answer, text } = await review(registry, 'bare..change');
    expect(answer.files).toEqual([{ path: 'registry.yaml', change: 'added', kind: 'registry' }]);
    expect(answer.findings).toMatchObject([{ code: 'policy-changed', blocks: false }]);
    // The two share no commit, which is said.
    expect(answer.commits?.shared).toBe(false);
    expect(text).toContain('no common commit: compared with bare as it is');
    const { code, err } = await runCli(['review', 'bare..bare'], registry.folder);
    expect(code).toBe(2);
    expect(err).toContain("Neither 'bare' nor 'bare' holds a registry.yaml.");
  });

  it('a link in its place is told as what it is', async () => {
    const registry = states(
      () => undefined,
      (r, remove) => {
        remove('registry.yaml');
        gitIn(r.folder, 'config', 'core.symlinks', 'true');
        symlinkSync('devices/cuff/device.yaml', path.join(r.folder, 'registry.yaml'));
      },
    );
    const { review: answer } = await review(registry);
    expect(blocking(answer)).toEqual([['file-unreadable', 'registry.yaml', null]]);
  });
});
