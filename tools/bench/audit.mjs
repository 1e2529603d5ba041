// Measures what an audit takes on registries of look-alikes: `node tools/bench/audit.mjs [--variants 200]`.
//
// The built program, a process each, as users run it; cold begins with an empty cache. A part that was taken from one of
// them has to be found in every run.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, rmSync } from 'node:fs';
import { availableParallelism, loadavg } from 'node:os';
import path from 'node:path';
import { parseArgs } from 'node:util';
import { root } from '../setup.mjs';
import { cache } from './inputs.mjs';

const { values: options } = parseArgs({
  options: {
    variants: { type: 'string', default: '200' },
    program: { type: 'string', default: path.join(root, 'packages/cli/bin/kinprint.js') },
  },
});
mkdirSync(cache, { recursive: true });
console.log(
  `${options.variants} look-alikes of 3 parts, one part taken from one of them; ${availableParallelism()} cores, load ${loadavg()[0].toFixed(1)}`,
);
for (const lineage of ['declared', 'undeclared']) {
  const folder = path.join(cache, `look-alikes-${lineage}-${options.variants}`);
  if (!existsSync(folder)) {
    const made = spawnSync(
      process.execPath,
      [
        '--conditions=source',
        '--import',
        'tsx',
        'tools/bench/look-alikes.ts',
        folder,
        options.variants,
        lineage,
      ],
      { cwd: root, stdio: 'inherit' },
    );
    if (made.status !== 0) process.exit(1);
  }
  const remembered = path.join(cache, `look-alikes-cache-${lineage}-${options.variants}`);
  rmSync(remembered, { recursive: true, force: true });
  for (const { name, args, target_s } of [
    { name: 'cold', args: [], target_s: 60 },
    { name: 'warm', args: [], target_s: 5 },
    { name: 'of one variant, warm', args: ['pen/taken'], target_s: null },
  ])
    report(`${lineage}, ${name}`, run(folder, remembered, args), target_s);
}

function run(folder, remembered, args) {
  const start = performance.now();
  const done = spawnSync(process.execPath, [options.program, 'audit', '--json', ...args], {
    cwd: folder,
    env: { ...process.env, KINPRINT_CACHE: remembered },
    encoding: 'utf8',
    maxBuffer: 1 << 28,
  });
  return { seconds: (performance.now() - start) / 1000, found: findsTaken(done.stdout) };
}

function findsTaken(out) {
  const findings = JSON.parse(out).works.flatMap(work => work.findings);
  return findings.some(
    ({ code, work, text }) =>
      code === 'undeclared-relative' && work === 'pen/taken@A' && text.includes('after scaling by 1.1;'),
  );
}

function report(name, { seconds, found }, target_s) {
  const verdict =
    target_s === null ? '' : seconds < target_s ? `under ${target_s} s` : `NOT under ${target_s} s`;
  console.log(
    [
      name.padEnd(32),
      `${seconds.toFixed(2)} s`.padStart(9),
      verdict,
      found ? '' : 'the taken part was NOT found',
    ]
      .join('  ')
      .trimEnd(),
  );
}
