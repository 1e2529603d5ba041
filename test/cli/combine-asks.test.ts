import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { bytesSource, massProperties, readMesh } from '@kinprint/mesh';
import { loadKernel, subtract, union } from '@kinprint/solid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { boxMesh } from '../../packages/solid/src/testing/shapes.ts';
import { temporaryFolder } from '../support/meshes.ts';
import { runCli } from '../support/run-cli.ts';
import { scriptedDialog } from '../support/scripted-dialog.ts';

const folder = temporaryFolder();
afterAll(() => folder.remove());

/** A bar; both remixes have a slot and a bump, each pair in conflict, all of other volumes. */
beforeAll(async () => {
  const kernel = await loadKernel();
  const bar = boxMesh([0, 0, 0], [60, 10, 10]);
  folder.write('bar.stl', bar);
  const remix = (slot: number, bump: number) =>
    union(kernel, [
      subtract(kernel, bar, boxMesh([10, -1, 8], [10 + slot, 11, 11])),
      boxMesh([40, 2, 9], [45, 8, 10 + bump]),
    ]);
  folder.write('a.stl', remix(4, 3));
  folder.write('b.stl', remix(6, 5));
});

/** Base; slots of 4 and 6 × 10 × 2 mm; bumps of 5 × 6 × 3 and × 5 mm. */
const volumes = { bar: 6000, slotA: 80, slotB: 120, bumpA: 90, bumpB: 150 };

const command = ['combine', 'bar.stl', 'a.stl', 'b.stl', '-o', 'out.stl'];
const output = path.join(folder.path, 'out.stl');
function written(): number {
  return massProperties(readMesh(bytesSource(readFileSync(output))).objects[0].mesh).volume;
}

describe('kinprint combine with somebody at the terminal', () => {
  it('writes nothing when told to stop, or when the input ends', async () => {
    for (const lines of [['stop'], ['a', ' Stop '], [], ['a'], ['perhaps', 'AB']]) {
      const person = scriptedDialog(...lines);
      const { code, out } = await runCli(command, folder.path, person.open);
      expect(code).toBe(1);
      expect(out).toContain('nothing is made before a');
      expect(existsSync(output)).toBe(false);
      expect(person.closed()).toBe(true);
    }
  }, 60_000);

  it('shows each conflict with both intentions, asks again what it does not know, and does as told', async () => {
    const person = scriptedDialog('a or b?', '', 'B', 'none');
    const { code, out, err } = await runCli(command, folder.path, person.open);
    expect([code, err]).toEqual([0, '']);
    // The larger first: bumps, then slots.
    expect(person.asked).toHaveLength(4);
    expect(person.asked[0]).toMatch(/conflict 1 both added, and not the same, at \(42\.5, 5(\.0)?, 12\.5\)/);
    expect(person.asked[0]).toContain('90.00 mm³ in common');
    expect(person.asked[0]).toContain('adds 90.00 mm³, 3.00 mm high');
    expect(person.asked[0]).toContain('adds 150.00 mm³, 5.00 mm high');
    expect(person.asked[0]).toMatch(/1 of 2 open: take a, b, both, none or stop\? $/);
    expect(person.asked.slice(1, 3)).toEqual(Array(2).fill('    take a, b, both, none or stop? '));
    expect(person.asked[3]).toContain('conflict 2 both removed');
    for (const line of person.asked.flatMap(text => text.split('\n')))
      expect([...line].length).toBeLessThanOrEqual(80);
    expect(out).toMatch(/^combined/);
    expect(written()).toBeCloseTo(volumes.bar + volumes.bumpB, 2);
  }, 60_000);

  it('asks only about what --take left open, and never where JSON was asked for', async () => {
    const person = scriptedDialog('both');
    const { code } = await runCli([...command, '--take', '1=a'], folder.path, person.open);
    expect(code).toBe(0);
    expect(person.asked).toHaveLength(1);
    expect(person.asked[0]).toContain('conflict 2');
    expect(written()).toBeCloseTo(volumes.bar + volumes.bumpA - volumes.slotB, 2);

    const other = scriptedDialog('a', 'a');
    expect((await runCli([...command, '--json'], folder.path, other.open)).code).toBe(1);
    expect((await runCli([...command, '--take', 'none'], folder.path, other.open)).code).toBe(0);
    expect(other.asked).toEqual([]);
  }, 60_000);

  // util-linux' script gives a program a terminal of its own; other systems have another program of that name.
  const hasScript = spawnSync('script', ['--version'], { encoding: 'utf8' }).stdout?.includes('util-linux');
  it.runIf(hasScript)(
    'does so on a terminal of 80 columns, and not where the output is piped',
    () => {
      const root = fileURLToPath(new URL('../..', import.meta.url));
      const program = [
        process.execPath,
        '--conditions=source',
        '--import',
        path.join(root, 'node_modules/tsx/dist/loader.mjs'),
        path.join(root, 'packages/cli/src/main.ts'),
        ...command.slice(0, -1),
        'terminal.stl',
      ];
      const line = program.map(word => `'${word}'`).join(' ');
      const onTerminal = (rest: string) =>
        spawnSync('script', ['-qec', `stty cols 80 rows 24; ${line}${rest}`, '/dev/null'], {
          cwd: folder.path,
          encoding: 'utf8',
          input: 'what\na\nboth\n',
          env: { ...process.env, NO_COLOR: '1' },
          timeout: 60_000,
        });
      const piped = onTerminal(' | cat');
      expect(piped.stdout).not.toContain('or stop?');
      expect(piped.stdout).toContain('To settle: --take');
      expect(existsSync(path.join(folder.path, 'terminal.stl'))).toBe(false);

      const { stdout, status } = onTerminal('');
      expect(status).toBe(0);
      expect(stdout).toContain('1 of 2 open: take a, b, both, none or stop? ');
      expect(stdout).toContain('2 of 2 open: take a, b, both, none or stop? ');
      expect(stdout).toMatch(/in\s+terminal\.stl/);
      const { mesh } = readMesh(bytesSource(readFileSync(path.join(folder.path, 'terminal.stl')))).objects[0];
      expect(massProperties(mesh).volume).toBeCloseTo(volumes.bar + volumes.bumpA - volumes.slotB, 2);
    },
    120_000,
  );
});
