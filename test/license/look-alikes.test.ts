import { createHash } from 'node:crypto';
import { contentDigest, readDocument } from '@kinprint/manifest';
import { writeStlBinary, type Mesh } from '@kinprint/mesh';
import type { RegistryAudit } from '@kinprint/registry';
import { afterAll, expect, it } from 'vitest';
import { plateWithHoles } from '../../packages/mesh/src/testing/plate.ts';
import { smallRegistry } from '../../packages/registry/src/testing/small-registry.ts';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { mapped, motion } from '../../tools/corpus/transform.ts';
import { runCli } from '../support/run-cli.ts';
import { objections } from '../support/schemas.ts';
import { found } from './support.ts';

afterAll(removeTemporaryFolders);

const count = 200;
/** No two are the same shape at whatever size: each has its hole elsewhere. */
const plate = (k: number, scale = 1) =>
  plateWithHoles(40 * scale, 20 * scale, 5 * scale, [
    { x: (8 + 0.055 * k) * scale, y: 6 * scale, r: 1.5 * scale, sides: 16 },
  ]);
const manifest = (license: string, name: string, from: string | null): string =>
  [
    'kinprint: variant/1',
    'title: Cuff',
    `license: ${license}`,
    `authors: [{ name: ${name} }]`,
    ...(from === null ? [] : [`derivations: [{ from: ${from}@A, relation: remix, changes: Hole moved. }]`]),
    'parts: [{ id: shell, mesh: parts/shell.stl }]',
    '',
  ].join('\n');

/** A manifest with its letter; by itself, as recording reads the whole registry each time. */
async function lettered(text: string, mesh: Mesh, date: string): Promise<string> {
  const sha256 = createHash('sha256').update(writeStlBinary(mesh)).digest('hex');
  const { value } = readDocument('variant', text, 'variant.yaml');
  if (value === null) throw new Error('a wrong manifest');
  const digest = await contentDigest(value, [{ path: 'parts/shell.stl', sha256 }]);
  return `${text}revisions: [{ letter: A, digest: '${digest}', date: ${date}, by: Robin Sample }]\n`;
}

async function audited(declared: boolean, ...args: string[]): Promise<RegistryAudit> {
  const registry = smallRegistry();
  const variant = async (name: string, text: string, mesh: Mesh, date: string) => {
    registry.write(`devices/cuff/${name}/parts/shell.stl`, mesh);
    registry.write(`devices/cuff/${name}/variant.yaml`, await lettered(text, mesh, date));
  };
  for (let k = 0; k < count; k++) {
    const from = declared && k > 0 ? `cuff/size-${Math.floor((k - 1) / 2)}` : null;
    await variant(`size-${k}`, manifest('CC-BY-SA-4.0', 'Robin Sample', from), plate(k), '2025-03-14');
  }
  const stolen = mapped(plate(137, 1.1), motion([1, 2, 3], 40, [30, 5, -7]));
  await variant('taken', manifest('MIT', 'Kim Example', null), stolen, '2026-03-14');
  const { out } = await runCli(['audit', '--json', '--no-cache', ...args], registry.folder);
  const report = JSON.parse(out) as RegistryAudit;
  expect(objections('audit', report)).toEqual([]);
  return report;
}

const relatives = (report: RegistryAudit): string[] =>
  report.works.flatMap(({ findings }) =>
    findings.filter(({ code }) => code === 'undeclared-relative').map(({ work, text }) => `${work}: ${text}`),
  );

it(
  'a part taken from one of 200 look-alikes is found, with the one it is from',
  { timeout: 300_000 },
  async () => {
    const report = await audited(true);
    expect(relatives(report)).toEqual([
      expect.stringMatching(
        /^cuff\/taken@A: shell has the shape of cuff\/size-137@A\/shell: .* after scaling by 1\.1;/,
      ),
    ]);
  },
);

it(
  'where too much is alike, what was not compared is told, and how to look; what is nearest is found all the same',
  { timeout: 300_000 },
  async () => {
    const report = await audited(false);
    expect(relatives(report).filter(text => text.startsWith('cuff/taken@A: '))).toEqual([
      expect.stringContaining('cuff/size-137@A/shell: the same shape after scaling by 1.1;'),
    ]);
    const told = report.works.flatMap(({ findings }) => findings.filter(f => f.code === 'not-compared'));
    expect(told).toHaveLength(1);
    expect(told[0].text).toMatch(
      /[1-9]\d* comparisons of near shapes were left out: of cuff\/size-\d+@A with its shell, and of \d+ more\.$/,
    );
    expect(told[0].remedy).toContain(`kinprint audit ${told[0].work.replace('@A', '')}.`);
    // Alone it is within the bound.
    const alone = await audited(false, told[0].work);
    expect(found(alone).filter(text => text.includes('not-compared'))).toEqual([]);
  },
);
