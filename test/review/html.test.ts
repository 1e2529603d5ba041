import { createHash } from 'node:crypto';
import { existsSync, readFileSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { massProperties } from '@kinprint/mesh';
import { afterAll, describe, expect, it, vi } from 'vitest';
import { joined } from '../../packages/mesh/src/testing/motions.ts';
import { box } from '../../packages/mesh/src/testing/shapes.ts';
import * as compareSides from '../../packages/registry/src/review/compare-sides.ts';
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

  it('compares and draws each part once for the page and the text, which show the same picture', async () => {
    const compared = vi.spyOn(compareSides, 'compareSides');
    const files = ['a', 'b'].map(name => ({
      html: path.join(target.path, `${name}.html`),
      markdown: path.join(target.path, `${name}.md`),
    }));
    for (const { html, markdown } of files) {
      compared.mockClear();
      const outputs = ['--html', html, '--markdown', markdown];
      await runCli(['review', 'main..change', '--no-cache', ...outputs], registry.folder);
      // Of the shell; the lid is new, the pad as it was.
      expect(compared).toHaveBeenCalledTimes(1);
    }
    compared.mockRestore();
    const [page, again] = files.map(({ html }) => readFileSync(html));
    expect(page.equals(again)).toBe(true);
    const stills = [
      ...page.toString().matchAll(/<figure class="still"><img[^>]* src="data:image\/png;base64,([^"]*)"/g),
    ];
    const pictures = path.join(target.path, 'a-pictures');
    const written = readdirSync(pictures).map(name => readFileSync(path.join(pictures, name), 'base64'));
    expect(written.sort()).toEqual(stills.map(([, data]) => data).sort());
    expect(written).toHaveLength(2);
  }, 120_000);

  it('shows a small picture of what changed most beside each variant, where there are several', async () => {
    const two = twoStates(
      r =>
        r.variant('left', parts('shell', 'pad'), { 'shell.stl': box(20, 30, 10), 'pad.stl': box(5, 5, 5) }),
      r => {
        r.variant('left', parts('shell', 'pad'), { 'shell.stl': box(20, 30, 14), 'pad.stl': box(5, 5, 6) });
        r.variant('right', parts('pad'), { 'pad.stl': box(7, 5, 5) });
      },
    );
    const file = path.join(target.path, 'two.html');
    await runCli(['review', 'main..change', '--no-cache', '--html', file], two.folder);
    const html = readFileSync(file, 'utf8');
    const data = (text: string): string[] =>
      [...text.matchAll(/src="data:image\/png;base64,([^"]*)"/g)].map(([, d]) => d);
    const [head, body] = html.split('</nav>');
    const small = [...body.matchAll(/<summary><img class="thumb"[^]*?<span class="name">([^<]*)</g)].map(
      ([text, name]) => [name, data(text)[0]] as const,
    );
    expect(small.map(([name]) => name)).toEqual(['shell', 'pad', 'pad']);
    expect(data(head)).toEqual([small[0][1], small[2][1]]);
    expect(head.match(/class="mini"/g)).toHaveLength(2);
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
