import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { decode } from 'fast-png';
import { writeStlBinary } from '@kinprint/mesh';
import { afterAll, describe, expect, test } from 'vitest';
import { icosphere } from '../../packages/mesh/src/testing/shapes.ts';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { temporaryFolder } from '../support/meshes.ts';
import { runCli } from '../support/run-cli.ts';
import { twoStates } from './support.ts';

const target = temporaryFolder();
afterAll(() => {
  target.remove();
  removeTemporaryFolders();
});

const good = icosphere(20, 3);

const plain = writeStlBinary(good);

/** The file of the good mesh with other coordinates: `k` counts those of all corners of all faces. */
function spoiled(value: (k: number, old: number) => number): Uint8Array {
  const bytes = plain.slice();
  const view = new DataView(bytes.buffer, bytes.byteOffset);
  for (let k = 0; k < 3 * good.triangles.length; k++) {
    const at = 84 + 50 * Math.floor(k / 9) + 12 + 4 * (k % 9);
    view.setFloat32(at, value(k, view.getFloat32(at, true)), true);
  }
  return bytes;
}

const cases: readonly (readonly [string, Uint8Array])[] = [
  ['nan', spoiled((k, old) => (k === 300 ? NaN : old))],
  ['far', spoiled((k, old) => (k === 300 ? 3e38 : old))],
  ['some-far', spoiled((k, old) => (k % 900 === 0 ? 3e38 : old))],
  ['all-far', spoiled((_, old) => (old < 0 ? -3e38 : 3e38))],
  ['endless', spoiled((k, old) => (k === 300 ? -Infinity : old))],
  ['tiny', spoiled((_, old) => old * 1e-31)],
];

/** Far above what a good mesh takes, a second or two; how the trees behind it are built is tested with them. */
const bound_ms = 30_000;

async function timed(
  args: string[],
  folder: string,
): Promise<{ readonly code: number; readonly err: string }> {
  const start = performance.now();
  const { code, err } = await runCli(args, folder);
  expect(performance.now() - start, args.join(' ')).toBeLessThan(bound_ms);
  return { code, err };
}

/** Whether a picture shows more than its paper: colors that are seen. */
function colorsOf(file: string): number {
  const { data } = decode(readFileSync(file));
  const seen = new Set<number>();
  for (let k = 0; k + 2 < data.length; k += 3) seen.add((data[k] << 16) | (data[k + 1] << 8) | data[k + 2]);
  return seen.size;
}

describe.each(cases)('coordinates that are no places: %s', (name, bytes) => {
  const file = path.join(target.path, `${name}.stl`);
  const whole = path.join(target.path, 'good.stl');
  writeFileSync(whole, plain);
  writeFileSync(file, bytes);

  test('a picture takes no longer than of a good mesh', async () => {
    const picture = path.join(target.path, `${name}.png`);
    expect(await timed(['picture', file, '--output', picture], target.path)).toEqual({ code: 0, err: '' });
    expect(colorsOf(picture)).toBeGreaterThan(1);
  }, 120_000);

  test('the picture of a change does not either', async () => {
    const picture = path.join(target.path, `${name}-change.png`);
    const { code } = await timed(['picture', file, '--against', whole, '--output', picture], target.path);
    expect(code).toBe(0);
    // The good side is drawn and shaded.
    expect(colorsOf(picture)).toBeGreaterThan(40);
  }, 120_000);

  test('nor does a review with all its pictures', async () => {
    const parts = 'parts:\n  - id: shell\n    mesh: parts/shell.stl\n';
    const registry = twoStates(
      r => r.variant('left', parts, { 'shell.stl': good }),
      r => writeFileSync(path.join(r.folder, 'devices/cuff/left/parts/shell.stl'), bytes),
    );
    const page = path.join(target.path, `${name}.html`);
    const text = path.join(target.path, `${name}.md`);
    const { code } = await timed(
      ['review', 'main..change', '--no-cache', '--html', page, '--markdown', text],
      registry.folder,
    );
    expect([0, 1]).toContain(code);
    expect(readFileSync(page, 'utf8')).toContain('<figure class="still"><img');
    expect(readFileSync(text, 'utf8')).toContain(`(${name}-pictures/cuff-left-shell.png)`);
  }, 120_000);
});
