// Measures what a review of many changed parts takes, with and without its pictures: `node tools/bench/review.mjs [--parts 300]`.
//
// The built program, a process each, as users run it; cold begins with an empty cache.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import { availableParallelism, loadavg } from 'node:os';
import path from 'node:path';
import { parseArgs } from 'node:util';
import { root } from '../setup.mjs';
import { cache } from './inputs.mjs';

const { values: options } = parseArgs({
  options: {
    parts: { type: 'string', default: '300' },
    program: { type: 'string', default: path.join(root, 'packages/cli/bin/kinprint.js') },
  },
});
mkdirSync(cache, { recursive: true });
const folder = path.join(cache, `changed-parts-${options.parts}`);
if (!existsSync(folder)) {
  const make = [
    '--conditions=source',
    '--import',
    'tsx',
    'tools/bench/changed-parts.ts',
    folder,
    options.parts,
  ];
  if (spawnSync(process.execPath, make, { cwd: root, stdio: 'inherit' }).status !== 0) process.exit(1);
}
console.log(
  `${options.parts} changed parts; ${availableParallelism()} cores, load ${loadavg()[0].toFixed(1)}`,
);
const remembered = path.join(cache, `changed-parts-cache-${options.parts}`);
const page = path.join(cache, 'changed-parts.html');
const outputs = ['--html', page, '--markdown', path.join(cache, 'changed-parts.md')];
for (const { name, args, cold } of [
  { name: 'without pictures, cold', args: [], cold: true },
  { name: 'without pictures, warm', args: [], cold: false },
  { name: 'page and text, cold', args: outputs, cold: true },
  { name: 'page and text, warm', args: outputs, cold: false },
]) {
  if (cold) rmSync(remembered, { recursive: true, force: true });
  const { seconds, code } = run(args);
  const failed = code === 0 || code === 1 ? '' : `exit ${code}`;
  console.log([name.padEnd(24), `${seconds.toFixed(1)} s`.padStart(10), failed].join('  ').trimEnd());
}
const stills = readFileSync(page, 'utf8').split('<figure class="still">').length - 1;
console.log(`${stills} parts with a picture, a page of ${(statSync(page).size / 1e6).toFixed(1)} MB`);

function run(args) {
  const start = performance.now();
  const done = spawnSync(
    process.execPath,
    [options.program, 'review', 'main..change', '--no-shapes', ...args],
    {
      cwd: folder,
      env: { ...process.env, KINPRINT_CACHE: remembered },
      stdio: ['ignore', 'ignore', 'inherit'],
    },
  );
  return { seconds: (performance.now() - start) / 1000, code: done.status };
}
