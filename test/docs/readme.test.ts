import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { version } from '../../packages/cli/src/version.ts';
import { makeRepository } from '../../tools/demo/make-repository.ts';
import { demoRegistry } from '../support/demo-registry.ts';
import { runCli } from '../support/run-cli.ts';

const readme = readFileSync(new URL('../../README.md', import.meta.url), 'utf8');
const commands = [...readme.matchAll(/```sh\n([\s\S]*?)```/g)].flatMap(([, block]) =>
  (block ?? '').trim().split('\n'),
);
const folder = mkdtempSync(path.join(tmpdir(), 'kinprint-readme-'));

beforeAll(async () => {
  await makeRepository(path.join(folder, 'demo/cuff-meshes'));
  await demoRegistry(path.join(folder, 'demo/cuff-registry'));
}, 240_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('README', () => {
  it('shows commands', () => {
    expect(commands.length).toBeGreaterThanOrEqual(3);
  });

  it.each(commands)('%s', { timeout: 60_000 }, async command => {
    const [npx, program, ...args] = command.split(' ');
    expect([npx, program]).toEqual(['npx', 'kinprint']);
    const { code, out, err } = await runCli(args, folder);
    // The demo's submission is one that should not be taken.
    expect({ code, err }).toEqual({ code: command.includes(' review ') ? 1 : 0, err: '' });
    expect(out.length).toBeGreaterThan(command.includes(' check ') ? 20 : 200);
  });
});

describe('the main job on the demo', () => {
  it(
    'finds the shell that was moved and reworked, its narrower hinge bores and its shifted boss',
    { timeout: 60_000 },
    async () => {
      const part = 'parts/shell-right.stl';
      const { out } = await runCli(
        ['compare', '--json', '--repo', 'demo/cuff-meshes', `rev-A:${part}`, `rev-B:${part}`],
        folder,
      );
      const c = JSON.parse(out) as {
        verdict: string;
        alignment: { kind: string; rotation_deg: number };
        features: {
          changed: { before: { diameter_mm: number }; after: { diameter_mm: number }; what: string[] }[];
        };
      };
      expect(c).toMatchObject({ verdict: 'reworked', alignment: { kind: 'rigid' } });
      expect(c.alignment.rotation_deg).toBeCloseTo(96, 2);
      const narrower = c.features.changed.filter(f => f.what.includes('diameter'));
      expect(narrower.map(f => [f.before.diameter_mm.toFixed(2), f.after.diameter_mm.toFixed(2)])).toEqual([
        ['3.20', '3.00'],
        ['3.20', '3.00'],
      ]);
    },
  );
});

describe('the version', () => {
  it('is the one of the packages', () => {
    const read = (file: string): { version: string } =>
      JSON.parse(readFileSync(new URL(file, import.meta.url), 'utf8')) as { version: string };
    expect(read('../../package.json').version).toBe(version);
    expect(read('../../packages/cli/package.json').version).toBe(version);
  });
});
