import { execFileSync } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ownCache } from '../support/own-cache.ts';
import { runCli } from '../support/run-cli.ts';
import { objections } from '../support/schemas.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'kinprint-lineage-'));
ownCache(() => 'off');
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

const digest = `sha256:${'a'.repeat(64)}`;
const letters = (...names: string[]): string =>
  `revisions:\n${names.map(l => `  - { letter: ${l}, digest: '${digest}', date: 2024-03-05 }\n`).join('')}`;
const from = (...list: string[]): string => `derivations:\n${list.map(l => `  - { ${l} }\n`).join('')}`;

function variant(address: string, rest: string): void {
  const below = path.join(folder, 'devices', address);
  mkdirSync(below, { recursive: true });
  writeFileSync(
    path.join(below, 'variant.yaml'),
    `kinprint: variant/1\ntitle: Cuff ${address}\nlicense: CC-BY-4.0\nparts: []\n${rest}`,
  );
}
writeFileSync(path.join(folder, 'registry.yaml'), 'kinprint: registry/1\nname: Lending group\n');
variant('cuff/base', letters('A', 'B'));
variant('cuff/rib', from('from: cuff/base@B, relation: remix') + letters('A'));
variant('cuff/strap', from('from: cuff/base@A, relation: remix') + letters('A'));
variant(
  'cuff/both',
  from('from: cuff/rib@A, relation: combination', 'from: cuff/strap@A, relation: combination') + letters('A'),
);
variant('cuff/alone', from('from: cuff/gone@C, relation: copy') + letters('A'));

interface Lineage {
  readonly nodes: readonly { readonly id: string; readonly status: string }[];
  readonly chosen: readonly string[];
  readonly dangling: readonly unknown[];
  readonly common_ancestors: { readonly nearest: readonly string[] } | null;
}

async function json(...args: string[]): Promise<Lineage> {
  const { code, out, err } = await runCli(['lineage', ...args, '--json'], folder);
  expect({ code, err }).toEqual({ code: 0, err: '' });
  const value: unknown = JSON.parse(out);
  expect(objections('lineage', value)).toEqual([]);
  return value as Lineage;
}

const ids = ({ nodes }: Lineage): string[] => nodes.map(n => n.id);

describe('kinprint lineage', () => {
  it('shows the whole registry, and says what dangles', async () => {
    const whole = await json();
    expect(ids(whole)).toHaveLength(7);
    expect(whole.dangling).toEqual([{ from: 'cuff/alone@A', to: 'cuff/gone@C' }]);
    const { out } = await runCli(['lineage'], path.join(folder, 'devices/cuff'));
    expect(out).toContain('└─ remix cuff/rib');
    expect(Math.max(...out.split('\n').map(line => [...line].length))).toBeLessThanOrEqual(80);
  });

  it('shows ancestors, descendants, or both, of a variant or a letter', async () => {
    // The present content of cuff/base has changed since B, so it came from B too.
    expect(ids(await json('cuff/base@B', '--descendants'))).toEqual([
      'cuff/base@B',
      'cuff/base',
      'cuff/both@A',
      'cuff/rib@A',
    ]);
    expect(ids(await json('cuff/strap@A', '--ancestors'))).toEqual(['cuff/base@A', 'cuff/strap@A']);
    expect(ids(await json('cuff/strap@A'))).toEqual([
      'cuff/base@A',
      'cuff/both@A',
      'cuff/strap@A',
      'cuff/strap',
    ]);
  });

  it('finds the nearest common ancestors', async () => {
    const { common_ancestors, chosen } = await json('cuff/rib@A', '--common', 'cuff/strap@A');
    expect(common_ancestors).toEqual({ all: ['cuff/base@A'], nearest: ['cuff/base@A'] });
    expect(chosen).toEqual(['cuff/base@A']);
    const { out } = await runCli(['lineage', 'cuff/alone', '--common', 'cuff/rib'], folder);
    expect(out).toContain('Nearest common ancestors of cuff/alone and cuff/rib: none');
  });

  it('tells of the variant that was named whether its content is still that of its last letter', async () => {
    const { nodes } = await json('cuff/strap');
    expect(nodes.find(n => n.id === 'cuff/strap')?.status).toBe('changed');
  });

  it('writes every format, to a file whole or not at all', async () => {
    for (const [format, begins] of [
      ['svg', '<svg xmlns="http://www.w3.org/2000/svg"'],
      ['html', '<!doctype html>'],
      ['dot', 'digraph lineage {'],
      ['mermaid', '%% Lending group\nflowchart LR'],
      ['prov-json', '{\n  "prefix"'],
      ['json', '{\n  "schema"'],
    ] as const) {
      const printed = await runCli(['lineage', '--format', format], folder);
      expect(printed.code).toBe(0);
      expect(printed.out.startsWith(begins)).toBe(true);
      const file = path.join(folder, `out.${format}`);
      expect(await runCli(['lineage', '--format', format, '--output', `out.${format}`], folder)).toEqual({
        code: 0,
        out: '',
        err: '',
      });
      expect(readFileSync(file, 'utf8')).toBe(printed.out);
    }
    const failed = await runCli(['lineage', '--output', 'no/such/folder.txt'], folder);
    expect(failed.code).toBe(2);
    expect(failed.err).toContain('cannot be written');
    expect(existsSync(path.join(folder, 'no'))).toBe(false);
    expect(readdirSync(folder).filter(name => name.endsWith('.tmp'))).toEqual([]);
  });

  it('answers wrong use with 2, and with what was probably meant', async () => {
    const err = async (...args: string[]): Promise<string> => {
      const outcome = await runCli(['lineage', ...args], folder);
      expect(outcome.code).toBe(2);
      return outcome.err;
    };
    expect(await err('cuff/bse')).toContain('Did you mean cuff/base?');
    expect(await err('cuff/base@H')).toContain('Its letters: A, B.');
    expect(await err('base')).toContain('DEVICE/VARIANT');
    expect(await err('--ancestors')).toContain('needs a variant');
    expect(await err('cuff/base', '--ancestors', '--descendants')).toContain('--descendants');
    expect(await err('--format', 'pdf')).toContain('pdf');
    expect((await runCli(['lineage'], tmpdir())).code).toBe(2);
  });
});

describe('a registry that derives from another one', () => {
  const other = path.join(folder, 'other');
  const own = path.join(folder, 'own');
  const fetched = path.join(folder, 'fetched');
  beforeAll(() => {
    for (const where of [other, own]) mkdirSync(path.join(where, 'devices/cuff/base'), { recursive: true });
    const manifest = (rest: string): string =>
      `kinprint: variant/1\ntitle: Base\nlicense: CC-BY-4.0\nparts: []\n${rest}`;
    writeFileSync(path.join(other, 'registry.yaml'), 'kinprint: registry/1\nname: Other group\n');
    writeFileSync(path.join(other, 'devices/cuff/base/variant.yaml'), manifest(letters('A')));
    const git = (...args: string[]): void =>
      void execFileSync('git', [
        '-C',
        other,
        '-c',
        'commit.gpgSign=false',
        '-c',
        'user.name=A',
        '-c',
        'user.email=a@example.org',
        ...args,
      ]);
    git('init', '-q', '-b', 'main');
    git('add', '-A');
    git('commit', '-q', '-m', 'Start');
    writeFileSync(
      path.join(own, 'registry.yaml'),
      `kinprint: registry/1\nname: Own group\nsources:\n  other: { git: '${other}' }\n`,
    );
    writeFileSync(
      path.join(own, 'devices/cuff/base/variant.yaml'),
      manifest(from("from: 'other:cuff/base@A', relation: remix")),
    );
  });

  it('names what was not fetched, fetches when asked to, and remembers', { timeout: 60_000 }, async () => {
    const statusOf = async (...args: string[]): Promise<string | undefined> => {
      const { code, out } = await runCli(['lineage', '--registry', own, '--json', ...args], folder);
      expect(code).toBe(0);
      const { nodes } = JSON.parse(out) as Lineage;
      return nodes.find(node => node.id === 'other:cuff/base@A')?.status;
    };
    process.env['KINPRINT_CACHE'] = fetched;
    expect(await statusOf()).toBe('elsewhere');
    expect(await statusOf('--sources')).toBe('recorded');
    expect(await statusOf()).toBe('recorded');
    process.env['KINPRINT_CACHE'] = 'off';
    const { code, err } = await runCli(['lineage', '--registry', own, '--sources'], folder);
    expect([code, err]).toEqual([2, expect.stringContaining('KINPRINT_CACHE')]);
  });
});

it('what cannot be used is told, not left out in silence: lineage, kin', async () => {
  const broken = mkdtempSync(path.join(tmpdir(), 'kinprint-broken-'));
  const home = path.join(broken, 'devices/cuff/left');
  mkdirSync(home, { recursive: true });
  writeFileSync(path.join(broken, 'registry.yaml'), 'kinprint: registry/1\nname: [\n');
  writeFileSync(path.join(home, 'variant.yaml'), 'kinprint: variant/1\ntitle: [\n');
  writeFileSync(
    path.join(broken, 'x.stl'),
    'solid x\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1 0 0\nvertex 0 1 0\nendloop\nendfacet\nendsolid x\n',
  );
  try {
    for (const args of [['lineage'], ['kin', 'x.stl']]) {
      const { err } = await runCli(args, broken);
      expect(err).toContain('registry.yaml has errors');
      expect(err).toContain('1 of 1 manifests have errors');
    }
    const { out } = await runCli(['check'], broken);
    expect(out).toContain('variant.yaml:2:8');
    expect(out).toContain('2 | title: [');
  } finally {
    rmSync(broken, { recursive: true, force: true });
  }
});
