import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Combination } from '@kinprint/compare';
import type { RegistryDocument, VariantDocument } from '@kinprint/manifest';
import type { CombineVariantsReport } from '@kinprint/registry';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { demoRegistry } from '../support/demo-registry.ts';
import { runCli } from '../support/run-cli.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'kinprint-demo-combine-'));
const registry = path.join(folder, 'registry');
beforeAll(async () => demoRegistry(registry), 180_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const cuff = (variant: string) => `utensil-cuff/${variant}`;
async function combined(a: string, b: string, to: string, ...rest: string[]) {
  const args = ['combine', cuff('right-58@B'), cuff(a), cuff(b), to, '--registry', registry, '--json'];
  const { code, out } = await runCli([...args, ...rest], folder);
  return { code, report: JSON.parse(out) as CombineVariantsReport };
}
const yaml = (file: string): unknown => parse(readFileSync(path.join(registry, file), 'utf8'));

/** Every combined part of a report: watertight, no faces that cross, every wanted change present, within a printer. */
function expectPrintable({ parts }: CombineVariantsReport): void {
  const { printers } = yaml('registry.yaml') as RegistryDocument;
  for (const { combination } of parts) {
    if (combination === null) continue;
    const { result, proof } = combination;
    expect(proof?.holds).toBe(true);
    expect(proof?.changes.filter(change => change.wanted && !change.holds)).toEqual([]);
    expect(result?.soundness).toMatchObject({ watertight: true, self_intersections: 0 });
    expect(
      printers?.some(({ build_volume_mm }) => result?.size_mm.every((size, k) => size <= build_volume_mm[k])),
    ).toBe(true);
  }
}

describe('two remixes of the demo’s cuff', () => {
  it('a rib and a quick strap go together: printable, checked, both credited', async () => {
    const made = await combined('right-58-rib@B', 'right-58-quick-strap@A', 'brought-together', '--take', 'summary=b');
    expect(made.code).toBe(0);
    expect(made.report.parts.map(({ id, from }) => [id, from])).toEqual([
      ['shell', 'combined'],
      ['leaf', 'combined'],
      ['buckle', 'b'],
      ['sleeve', 'base'],
      ['pad', 'b'],
    ]);
    const [shell, leaf] = made.report.parts.map(part => part.combination);
    for (const part of [shell, leaf]) {
      expect(part?.changes.every(change => change.fate === 'taken')).toBe(true);
      expect(new Set(part?.changes.map(change => change.side))).toEqual(new Set(['a', 'b']));
    }
    expectPrintable(made.report);
    const manifest = yaml('devices/utensil-cuff/brought-together/variant.yaml') as VariantDocument;
    expect(manifest.derivations?.map(({ from, relation, digest }) => [from, relation, digest])).toEqual([
      [cuff('right-58-rib@B'), 'combination', made.report.revisions.a.digest],
      [cuff('right-58-quick-strap@A'), 'combination', made.report.revisions.b.digest],
    ]);
    const names = (variant: string) =>
      (yaml(`devices/utensil-cuff/${variant}/variant.yaml`) as VariantDocument).authors?.map(({ name }) => name) ?? [];
    expect(names('brought-together')).toEqual(
      expect.arrayContaining([...names('right-58-rib'), ...names('right-58-quick-strap')]),
    );
    const check = await runCli(['check', cuff('brought-together'), '--registry', registry], folder);
    expect([check.code, check.out]).toEqual([0, 'No findings in 1 variant with 5 parts.\n']);
  }, 240_000);

  it('a wider palm and a rib do not: shown as conflicts, settled one by one', async () => {
    const open = await combined('right-62@A', 'right-58-rib@B', 'wide-rib');
    expect([open.code, open.report.written]).toEqual([1, null]);
    const [shell, leaf] = open.report.parts.map(part => part.combination?.conflicts ?? []);
    expect(shell).toMatchObject([{ number: 1, kind: 'both-added', take: null }]);
    expect(leaf).toMatchObject([{ number: 1, kind: 'added-against-removed', take: null }]);
    expect(open.report.conflicts.map(({ key }) => key)).toEqual(['summary']);

    const choices = 'shell:1=both,leaf:1=b,summary=b';
    const settled = await combined('right-62@A', 'right-58-rib@B', 'wide-rib', '--take', choices);
    expect(settled.code).toBe(0);
    expect(settled.report.written?.address).toBe(cuff('wide-rib'));
    const fates = settled.report.parts[1].combination?.changes.map(({ side, fate }) => [side, fate]) ?? [];
    expect(fates.filter(([side]) => side === 'b')).toEqual([['b', 'taken']]);
    expect(fates.filter(([side]) => side === 'a').every(([, fate]) => fate === 'left')).toBe(true);
    expectPrintable(settled.report);
    const both = await combined('right-62@A', 'right-58-rib@B', 'wide-rib-both', '--take', 'shell:1=both,leaf:1=both,summary=b');
    expect(both.code).toBe(0);
    expect(both.report.parts[1].combination?.changes.every(({ fate }) => fate === 'taken')).toBe(true);
    expectPrintable(both.report);
    const check = await runCli(['check', cuff('wide-rib'), '--registry', registry], folder);
    expect([check.code, check.out]).toEqual([0, 'No findings in 1 variant with 5 parts.\n']);
  }, 240_000);

  it.each([
    ['right-58-quick-strap', '1=b,2=none'],
    ['right-58-quick-strap', '1=none,2=a'],
    ['right-58-rib', 'b'],
    ['right-58-rib', 'none'],
  ])('a wider shell and %s, settled %s: one piece, proven, no faces that cross', async (other, take) => {
    const file = (variant: string) => path.join(registry, 'devices', cuff(variant), 'parts/shell.stl');
    const args = ['combine', file('right-58'), file('right-62'), file(other), '--take', take, '--json'];
    const { code, out } = await runCli(args, folder);
    const { result, proof } = JSON.parse(out) as Combination;
    expect([code, proof?.holds, proof?.crossings.found, result?.bodies]).toEqual([0, true, 0, 1]);
  }, 240_000);
});
