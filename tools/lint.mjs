// Everything that is looked at without running a test, two at a time: types of the tests, format, style, floors.
import { spawn } from 'node:child_process';
import { root } from './setup.mjs';

const bin = name => `node_modules/.bin/${name}`;
const checks = [
  [bin('eslint'), '.'],
  [bin('tsc'), '-p', 'tsconfig.tests.json'],
  [bin('prettier'), '--check', '--log-level', 'warn', '.'],
  [bin('depcruise'), '--config', '.dependency-cruiser.cjs', '--output-type', 'err', 'packages'],
  [process.execPath, 'tools/layers.mjs'],
];
let failed = false;
const take = async () => {
  for (let next = checks.shift(); next !== undefined; next = checks.shift()) {
    const [program, ...args] = next;
    const child = spawn(program, args, { cwd: root, stdio: ['ignore', 'pipe', 'pipe'] });
    const told = [];
    child.stdout.on('data', piece => told.push(piece));
    child.stderr.on('data', piece => told.push(piece));
    const code = await new Promise((resolve, reject) => child.on('error', reject).on('close', resolve));
    if (code === 0) continue;
    failed = true;
    process.stdout.write(Buffer.concat(told));
  }
};
await Promise.all([take(), take()]);
process.exit(failed ? 1 : 0);
