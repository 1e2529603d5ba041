import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeRegistry } from '../../tools/demo/registry/make-registry.ts';
import { demoRegistry } from '../support/demo-registry.ts';
import { runCli } from '../support/run-cli.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'kinprint-demo-registry-'));
const registry = path.join(folder, 'registry');
const git = (...args: string[]): string =>
  execFileSync('git', ['-C', registry, ...args], { encoding: 'utf8' }).trim();
const json = async (...args: string[]): Promise<unknown> =>
  JSON.parse((await runCli([...args, '--registry', registry, '--json'], folder)).out);

beforeAll(async () => demoRegistry(registry), 180_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('the demo registry', () => {
  it('is the same, commit for commit, when made again', { timeout: 180_000 }, async () => {
    const again = path.join(folder, 'again');
    await makeRegistry(again);
    const heads = (where: string): string =>
      execFileSync('git', ['-C', where, 'rev-parse', 'main', 'submission'], { encoding: 'utf8' });
    expect(heads(again)).toBe(heads(registry));
    expect(git('status', '--porcelain')).toBe('');
  });

  it('has branches and merges by several people', () => {
    expect(git('log', '--merges', '--format=%s', 'main').split('\n')).toHaveLength(2);
    expect(new Set(git('log', '--format=%an', 'main').split('\n')).size).toBeGreaterThanOrEqual(5);
  });

  it('has variants in four generations, mirrored hands, sizes, two remixes and their combination', async () => {
    const { nodes, edges } = (await json('lineage')) as {
      nodes: { id: string; address: string }[];
      edges: { from: string; to: string; relation: string }[];
    };
    expect(new Set(nodes.map(node => node.address)).size).toBeGreaterThanOrEqual(8);
    const relations = edges.map(edge => edge.relation);
    for (const relation of ['remix', 'mirror', 'rescale', 'combination', 'revision'])
      expect(relations).toContain(relation);
    const up = (id: string): number =>
      Math.max(0, ...edges.filter(edge => edge.from === id && edge.relation !== 'revision').map(edge => 1 + up(edge.to)));
    expect(up('utensil-cuff/left-58-rib-quick@A')).toBe(3);
  });

  it('has nothing for check to find, and mistakes on the branch submission', { timeout: 120_000 }, async () => {
    const fine = await runCli(['check', '--registry', registry], folder);
    expect([fine.code, fine.out]).toEqual([0, expect.stringMatching(/^No findings in 15 variants with 6\d parts\.\n$/)]);
    const sent = await runCli(['check', '--registry', registry, '--at', 'submission', '--json'], folder);
    expect(sent.code).toBe(1);
    const { findings } = JSON.parse(sent.out) as { findings: { code: string; severity: string }[] };
    const errors = findings.filter(finding => finding.severity === 'error').map(finding => finding.code);
    for (const code of [
      'unknown-key',
      'unknown-value',
      'out-of-range',
      'license-wrong',
      'derivation-letter-unknown',
      'derivation-digest-differs',
      'interface-differs',
      'mesh-no-volume',
      'part-too-large',
      'file-missing',
    ])
      expect(errors).toContain(code);
  });

  it('puts shell, leaf and sleeve together; the leaf that was sent interferes with both lugs', { timeout: 120_000 }, async () => {
    const sent = await runCli(['check', '--registry', registry, '--at', 'submission', '--json', 'utensil-cuff/right-62'], folder);
    const { findings } = JSON.parse(sent.out) as { findings: { code: string; severity: string; part: string; text: string }[] };
    const [found] = findings.filter(({ code }) => code === 'parts-interfere');
    expect(found).toMatchObject({ severity: 'warning', part: 'leaf' });
    // The knuckle is 13 mm long between lugs 12 mm apart: a disk of 8 mm less the bore of 3 mm, half a millimeter of it on
    // each side, each of 48 sides: 2 · 0.5 · 24 · (4² − 1.5²) · sin(2π/48).
    const volume = Number(/: ([\d.]+) mm³, up to 0\.50 mm deep/.exec(found.text)?.[1]);
    expect(volume / (24 * (16 - 2.25) * Math.sin(Math.PI / 24))).toBeCloseTo(1, 1);
  });

  it('holds a copy that nobody declared, and kin finds it', { timeout: 120_000 }, async () => {
    const { answers } = (await json('kin', 'pen-cuff/right-64/shell')) as {
      answers: {
        relatives: { relation: string; other_facets: boolean; scale: number; places: { address: string; part: string; declared: string }[] }[];
      }[];
    };
    const found = answers[0].relatives.find(({ places }) =>
      places.some(({ address, part }) => address === 'utensil-cuff/right-58' && part === 'shell'),
    );
    expect(found).toMatchObject({ relation: 'rescaled', other_facets: true });
    expect(found?.places.map(({ declared }) => declared)).not.toContain('declared');
    // Seen from the copy, the original is smaller by what it was enlarged.
    expect(found?.scale).toBeCloseTo(1 / 1.1, 3);
  });
});
