import { createHash } from 'node:crypto';
import { existsSync, readFileSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { massProperties } from '@kinprint/mesh';
import { afterAll, describe, expect, it } from 'vitest';
import { joined } from '../../packages/mesh/src/testing/motions.ts';
import { box } from '../../packages/mesh/src/testing/shapes.ts';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { unpackMeshes } from '../../packages/report/src/geometry/unpack.ts';
import type { PartData } from '../../packages/report/src/review-page/part-data.ts';
import { temporaryFolder } from '../support/meshes.ts';
import { runCli } from '../support/run-cli.ts';
import { twoStates } from './support.ts';

const target = temporaryFolder();
afterAll(() => {
  target.remove();
  removeTemporaryFolders();
});

const parts = (...ids: string[]): string =>
  `parts:\n${ids.map(id => `  - id: ${id}\n    mesh: parts/${id}.stl\n`).join('')}`;
const registry = twoStates(
  r => r.variant('left', parts('shell', 'pad'), { 'shell.stl': box(20, 30, 10), 'pad.stl': box(5, 5, 5) }),
  r =>
    r.variant('left', parts('shell', 'pad', 'lid'), {
      'shell.stl': joined(box(20, 30, 10), box(4, 5, 6, [3, 3, 10])),
      'pad.stl': box(5, 5, 5),
      'lid.stl': box(8, 8, 1),
    }),
);

describe('kinprint review --html', () => {
  it('writes one page with every part that changed, its geometry and its pictures; and nothing beside it', async () => {
    const file = path.join(target.path, 'review.html');
    const { err } = await runCli(['review', 'main..change', '--no-cache', '--html', file], registry.folder);
    expect(err).toBe('');
    expect(readdirSync(target.path)).toEqual(['review.html']);
    const html = readFileSync(file, 'utf8');
    const names = [...html.matchAll(/<span class="name">([^<]*)</g)].map(([, name]) => name);
    expect(names.sort()).toEqual(['lid', 'shell']);
    expect(html).toContain('As before: pad.');

    const blocks = [...html.matchAll(/<script type="application\/json" class="geometry">([^<]*)<\/script>/g)];
    const data = blocks.map(([, text]) => JSON.parse(text) as PartData);
    const volumes = await Promise.all(
      data.map(async ({ geometry }) =>
        (await unpackMeshes(geometry)).map(mesh => Math.round(massProperties(mesh).volume)),
      ),
    );
    // Before, after, and the block of 4 × 5 × 6 mm that was added; the lid of 8 × 8 × 1 mm.
    expect(volumes.sort((a, b) => b.length - a.length)).toEqual([[6000, 6120, 120], [64]]);

    // The policy names the only script and the only style, and allows nothing else.
    const policy = /http-equiv="Content-Security-Policy" content="([^"]*)"/.exec(html)?.[1] ?? '';
    const hash = (text: string): string => `'sha256-${createHash('sha256').update(text).digest('base64')}'`;
    const scripts = [...html.matchAll(/<script>([^]*?)<\/script>/g)].map(([, text]) => hash(text));
    const styles = [...html.matchAll(/<style>([^]*?)<\/style>/g)].map(([, text]) => hash(text));
    expect([scripts.length, styles.length]).toEqual([1, 1]);
    expect(policy).toBe(
      `default-src 'none'; style-src ${styles[0]}; script-src ${scripts[0]}; img-src data:; base-uri 'none'; form-action 'none'`,
    );
    const addresses = [...html.matchAll(/ (?:src|href)="([^"]{0,22})/g)].map(([, address]) => address);
    expect(addresses.filter(each => !/^data:image\/png;base64|^#/.test(each))).toEqual([]);
  }, 120_000);

  it('says where it cannot write, and leaves nothing', async () => {
    const file = path.join(target.path, 'nowhere', 'review.html');
    const { code, err } = await runCli(
      ['review', 'main..change', '--no-cache', '--html', file],
      registry.folder,
    );
    expect(code).toBe(2);
    expect(err).toContain('There is no folder to write it to.');
    expect(existsSync(path.dirname(file))).toBe(false);
  }, 120_000);
});
