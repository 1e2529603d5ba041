// Measures kinprint against general-purpose libraries, side by side in one run on the same files.
//
//   npm run bench -- [--sizes 20k,200k,2m] [--only measure|deviation|compare|combine|startup|registry|audit|review|kin]
//                     [--no-peers] [--json]
//
// Every measurement is a process of its own, so its peak memory is its own. Medians of three
// runs in turn, one run at 2m.
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { root, setup } from './setup.mjs';
import { disagreements } from './bench/agreement.mjs';
import { judge } from './bench/targets.mjs';
import { availableEngines, inputBytes, rows, runInTurns, startupTimes } from './bench/engines.mjs';
import { makeInputs, sizes } from './bench/inputs.mjs';
import { printTable, printTargets } from './bench/table.mjs';

const { values: options } = parseArgs({
  options: {
    sizes: { type: 'string', default: '20k,200k,2m' },
    only: { type: 'string' },
    'no-peers': { type: 'boolean', default: false },
    json: { type: 'boolean', default: false },
    help: { type: 'boolean', default: false },
  },
});
if (options.help) {
  const lines = readFileSync(import.meta.filename, 'utf8').split('\n');
  const head = lines.slice(
    0,
    lines.findIndex(line => !line.startsWith('//')),
  );
  console.log(head.map(line => line.replace(/^\/\/ ?/, '')).join('\n'));
  process.exit(0);
}
const wanted = options.sizes.toLowerCase().split(',');
const groups = [
  'measure',
  'deviation',
  'compare',
  'combine',
  'startup',
  'registry',
  'audit',
  'review',
  'kin',
];
/** Benchmarks with tables of their own. */
const scripts = {
  registry: ['tools/bench/registry.mjs'],
  audit: ['tools/bench/audit.mjs'],
  review: ['tools/bench/review.mjs'],
  kin: ['--conditions=source', '--import', 'tsx', 'tools/bench/kin.ts'],
};
const unknown = [
  ...wanted.filter(size => !(size in sizes)),
  ...(options.only === undefined || groups.includes(options.only) ? [] : [options.only]),
];
if (unknown.length > 0) {
  console.error(
    `Unknown: ${unknown.join(', ')}. Sizes: ${Object.keys(sizes).join(', ')}; --only: ${groups.join(', ')}.`,
  );
  process.exit(2);
}

const say = text => process.stderr.write(`${text}\n`);
setup();
// What is measured is the built code, as users run it.
if (spawnSync('npm', ['run', '--silent', 'build'], { cwd: root, stdio: ['ignore', 2, 2] }).status !== 0) {
  say('The build failed, so there is nothing to measure.');
  process.exit(1);
}
for (const [name, args] of Object.entries(scripts)) {
  if (options.only !== name) continue;
  process.exit(spawnSync(process.execPath, args, { cwd: root, stdio: 'inherit' }).status ?? 1);
}
const chosen = rows.filter(row => options.only === undefined || row.group === options.only);
if (chosen.length > 0) await makeInputs(wanted, say);
const engines = options['no-peers'] || chosen.length === 0 ? new Set() : availableEngines(say);

const results = [];
for (const size of wanted) {
  const times = size === '2m' ? 1 : 3;
  for (const row of chosen) {
    const bytes = inputBytes(row.inputs, size);
    const entries = [
      ...(row.floor
        ? [
            { engine: 'floor', work: 'measure', role: 'floor', inputs: row.inputs },
            { engine: 'floor', work: 'fastest', role: 'loop', name: 'fast loop', inputs: row.inputs },
          ]
        : []),
      { engine: 'kinprint', work: row.ours, role: 'ours', inputs: row.inputs },
      ...row.peers
        .filter(peer => engines.has(peer) && !(row.skip?.[peer] ?? []).includes(size))
        .map(engine => ({ engine, work: row.peerWork ?? row.ours, role: 'peer', inputs: row.inputs })),
    ];
    say(`${size}  ${row.title}: ${entries.map(entry => entry.engine).join(', ')}`);
    const found = runInTurns(entries, size, times);
    entries.forEach(({ engine, name = engine, role }, k) =>
      results.push({ title: row.title, size, engine: name, role, bytes, ...found[k] }),
    );
  }
}
const startup = options.only === undefined || options.only === 'startup' ? startupTimes() : null;
const targets = judge(results, startup);
if (options.json) console.log(JSON.stringify({ node: process.version, results, startup, targets }, null, 2));
else {
  printTable(results);
  printTargets(targets, startup);
}
const doubts = disagreements(results);
for (const doubt of doubts) say(doubt);
if (doubts.length > 0) process.exit(1);
