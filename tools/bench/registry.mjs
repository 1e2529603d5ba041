// Measures what the registry's commands take on a large registry: `node tools/bench/registry.mjs [--variants 2000]`.
//
// Everything runs as users run it: the built program, a process each. Cold begins with an empty cache. Warm times are
// medians of five runs.
import { spawnSync } from 'node:child_process';
import { mkdirSync, rmSync } from 'node:fs';
import { availableParallelism, loadavg } from 'node:os';
import path from 'node:path';
import { parseArgs } from 'node:util';
import { root } from '../setup.mjs';
import { cache } from './inputs.mjs';
import { makeRegistry } from './registry/make-registry.mjs';

const { values: options } = parseArgs({
  options: {
    variants: { type: 'string', default: '2000' },
    program: { type: 'string', default: path.join(root, 'packages/cli/bin/kinprint.js') },
    warm: { type: 'boolean', default: false },
  },
});
const variants = Number(options.variants);
mkdirSync(cache, { recursive: true });
const folder = await makeRegistry(cache, variants);
const remembered = path.join(cache, `registry-cache-${variants}`);
if (!options.warm) rmSync(remembered, { recursive: true, force: true });

const last = `device-${String(Math.floor((variants - 1) / 50)).padStart(4, '0')}/variant-0049`;
const targets = [
  ...(options.warm ? [] : [{ name: 'check, cold', args: ['check'], times: 1, target_s: null }]),
  { name: 'check, warm', args: ['check'], times: 5, target_s: 3 },
  { name: 'check of one variant', args: ['check', last], times: 5, target_s: null },
  { name: 'show', args: ['show', last], times: 5, target_s: 1 },
  { name: 'lineage of one variant', args: ['lineage', last], times: 5, target_s: 1 },
  { name: 'lineage of all', args: ['lineage', '--json'], times: 5, target_s: 1 },
];

console.log(
  `${variants} variants, ${5 * variants} parts; ${availableParallelism()} cores, load ${loadavg()[0].toFixed(1)}`,
);
for (const { name, args, times, target_s } of targets) {
  const runs = Array.from({ length: times }, () => run(args)).sort((a, b) => a.seconds - b.seconds);
  const { seconds, code, out } = runs[Math.floor(times / 2)];
  const verdict =
    target_s === null ? '' : seconds < target_s ? `under ${target_s} s` : `NOT under ${target_s} s`;
  const failed = code === 0 ? '' : `exit ${code}: ${out.split('\n').at(-2) ?? ''}`;
  console.log(
    [name.padEnd(24), `${seconds.toFixed(2)} s`.padStart(10), verdict, failed].join('  ').trimEnd(),
  );
}

function run(args) {
  const start = performance.now();
  const done = spawnSync(process.execPath, [options.program, ...args], {
    cwd: folder,
    env: { ...process.env, KINPRINT_CACHE: remembered },
    encoding: 'utf8',
    maxBuffer: 1 << 28,
  });
  return { seconds: (performance.now() - start) / 1000, code: done.status, out: done.stdout + done.stderr };
}
