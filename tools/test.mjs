// One command from a bare clone: install, build, lint, every test; ends with 'N passed, N failed'.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { haveChromium } from './chromium.mjs';
import { root, setup } from './setup.mjs';

setup();
let broken = false;
for (const step of ['build', 'lint']) {
  const { status } = spawnSync('npm', ['run', '--silent', step], { cwd: root, stdio: 'inherit' });
  if (status !== 0) {
    console.error(`npm run ${step} failed.`);
    broken = true;
  }
}

if (haveChromium() === null)
  console.error(
    'There is no Chromium: tests in a browser will fail. Install the package chromium, or set CHROMIUM.',
  );

const dir = mkdtempSync(path.join(tmpdir(), 'kinprint-test-'));
const report = path.join(dir, 'report.json');
const extra = process.argv.slice(2);
const { status } = spawnSync(
  process.execPath,
  [
    path.join(root, 'node_modules/vitest/vitest.mjs'),
    'run',
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${report}`,
    ...extra,
  ],
  { cwd: root, stdio: 'inherit' },
);
let passed = 0;
let failed = broken ? 1 : 0;
if (existsSync(report)) {
  const result = JSON.parse(readFileSync(report, 'utf8'));
  passed = result.numPassedTests;
  failed += result.numFailedTests;
  // A file that dies before its tests start has no failed test to count.
  if (status !== 0 && failed === 0) failed = Math.max(1, result.numFailedTestSuites);
} else failed += 1;
rmSync(dir, { recursive: true, force: true });
console.log(`${passed} passed, ${failed} failed`);
process.exit(status !== 0 || failed > 0 ? 1 : 0);
