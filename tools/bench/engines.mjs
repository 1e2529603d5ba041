// What is measured against what, and how to start each engine in a process of its own.
import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, statSync } from 'node:fs';
import path from 'node:path';
import { root } from '../setup.mjs';
import { cache, inputPath } from './inputs.mjs';

const child = path.join(root, 'tools/bench/child.mjs');
const vtkScript = path.join(root, 'tools/bench/peers/vtk_peer.py');
const cgalSource = path.join(root, 'tools/bench/peers/cgal_peer.cpp');
const cgalProgram = path.join(cache, 'cgal_peer');
/** No single run may take longer. */
const patience = 400_000;

/**
 * Rows of the benchmark. `peers` do the same work with other libraries; `sampled` says that they look at vertices
 * only. `skip` names sizes at which a peer is left out because it runs out of memory or of patience.
 */
export const rows = [
  {
    group: 'measure',
    title: 'load, weld, measure',
    ours: 'measure',
    inputs: ['part'],
    peers: ['manifold', 'three', 'vtk', 'cgal'],
    floor: true,
  },
  {
    group: 'measure',
    title: 'load, weld, measure: scan-like',
    ours: 'measure',
    inputs: ['scan'],
    peers: ['manifold', 'three', 'vtk', 'cgal'],
    floor: true,
  },
  {
    group: 'measure',
    title: 'with walls, features, crossings',
    ours: 'full',
    inputs: ['part'],
    peers: [],
    floor: true,
  },
  {
    group: 'deviation',
    title: 'deviation, all facets differ',
    ours: 'deviation',
    inputs: ['part', 'finer'],
    peers: ['bvh', 'vtk', 'cgal'],
  },
  {
    group: 'deviation',
    title: 'deviation, local edit',
    ours: 'deviation',
    inputs: ['part', 'edited'],
    peers: ['bvh', 'vtk', 'cgal'],
  },
  {
    group: 'compare',
    title: 'comparison, local edit',
    ours: 'compare',
    inputs: ['part', 'edited'],
    peers: ['manifold'],
  },
  {
    group: 'compare',
    title: 'comparison, moved and edited',
    ours: 'compare',
    inputs: ['part', 'moved'],
    peers: [],
  },
  {
    group: 'compare',
    title: 'comparison, all facets differ',
    ours: 'compareWithin',
    peerWork: 'compare',
    inputs: ['part', 'finer'],
    peers: ['manifold'],
    skip: { manifold: ['2m'] },
  },
  {
    group: 'combine',
    title: 'combination of two local edits',
    ours: 'combine',
    inputs: ['part', 'edited', 'drilled'],
    peers: [],
  },
];

/** Which engines can run here; the ones from Debian only where their packages are present. */
export function availableEngines(say) {
  const engines = new Set(['manifold', 'three', 'bvh']);
  // Debian's modules belong to Debian's Python, whatever stands first in the path.
  if (spawnSync('/usr/bin/python3', ['-c', 'import vtkmodules.vtkFiltersModeling']).status === 0)
    engines.add('vtk');
  else say("VTK is not measured: Debian's python3-vtk9 is absent.");
  if (existsSync('/usr/include/CGAL/version.h') && spawnSync('g++', ['--version']).status === 0) {
    mkdirSync(cache, { recursive: true });
    if (!existsSync(cgalProgram) || statSync(cgalProgram).mtimeMs < statSync(cgalSource).mtimeMs) {
      say('compiling the CGAL program');
      execFileSync(
        'g++',
        ['-O3', '-DNDEBUG', '-std=c++17', cgalSource, '-o', cgalProgram, '-lgmp', '-lmpfr'],
        { stdio: 'inherit' },
      );
    }
    engines.add('cgal');
  } else say("CGAL is not measured: Debian's libcgal-dev or g++ is absent.");
  return engines;
}

/** Runs one engine once. Returns `{seconds, peak, answer}`, or `{failed}` with a reason. */
export function runOnce(engine, work, inputs, size) {
  const files = inputs.map(kind => inputPath(kind, size));
  const commands = {
    vtk: ['/usr/bin/python3', [vtkScript, work, ...files]],
    cgal: [cgalProgram, [work, ...files]],
  };
  const [program, args] = commands[engine] ?? [
    process.execPath,
    ['--max-old-space-size=8192', child, engine, work, ...files],
  ];
  const { status, signal, stdout, stderr, error } = spawnSync(program, args, {
    cwd: root,
    encoding: 'utf8',
    timeout: patience,
    maxBuffer: 1 << 26,
  });
  if (error !== undefined || signal !== null)
    return {
      failed:
        error?.code === 'ETIMEDOUT'
          ? `longer than ${patience / 1000} s`
          : `stopped (${signal ?? error?.code})`,
    };
  if (status !== 0)
    return {
      failed: (
        stderr
          .trim()
          .split('\n')
          .find(line => /Error|error/.test(line)) ?? `ended with ${status}`
      ).slice(0, 160),
    };
  return JSON.parse(stdout.trim().split('\n').at(-1));
}

/**
 * Runs every engine `times` times, taking turns, so that a busy spell of the machine hits all alike. Each gets its
 * run of median time; peak memory is the largest of all.
 */
export function runInTurns(entries, size, times) {
  const runs = entries.map(() => []);
  for (let round = 0; round < times; round++) {
    entries.forEach(({ engine, work, inputs }, k) => {
      if (runs[k].at(-1)?.failed === undefined) runs[k].push(runOnce(engine, work, inputs, size));
    });
  }
  return runs.map(list => {
    const failed = list.find(run => run.failed !== undefined);
    if (failed !== undefined) return failed;
    list.sort((a, b) => a.seconds - b.seconds);
    return { ...list[Math.floor(list.length / 2)], peak: Math.max(...list.map(run => run.peak)) };
  });
}

export function inputBytes(inputs, size) {
  return inputs.reduce((sum, kind) => sum + statSync(inputPath(kind, size)).size, 0);
}

/** Median wall time of `kinprint --version` and of an empty Node process, taken in turn. */
export function startupTimes(times = 20) {
  const program = path.join(root, 'packages/cli/bin/kinprint.js');
  const once = args => {
    const start = performance.now();
    const { status } = spawnSync(process.execPath, args, { stdio: 'ignore' });
    if (status !== 0) throw new Error(`${args.join(' ')} ended with ${status}`);
    return (performance.now() - start) / 1000;
  };
  const empty = [];
  const version = [];
  for (let i = 0; i < times; i++) {
    empty.push(once(['-e', '']));
    version.push(once([program, '--version']));
  }
  const median = list => list.sort((a, b) => a - b)[Math.floor(list.length / 2)];
  return { empty: median(empty), version: median(version) };
}
