// Finds Chromium for the browser tests; on Debian, and with the right to do so, installs it where it is missing.
import { spawnSync } from 'node:child_process';
import { accessSync, constants } from 'node:fs';
import path from 'node:path';

const names = ['chromium', 'chromium-browser'];

/** The program's path; null where there is none. `CHROMIUM` in the environment goes first. */
export function findChromium() {
  const { CHROMIUM, PATH = '' } = process.env;
  const folders = [...PATH.split(path.delimiter), '/usr/bin'];
  const all = [
    ...(CHROMIUM ? [CHROMIUM] : []),
    ...folders.flatMap(folder => names.map(n => path.join(folder, n))),
  ];
  return all.find(isProgram) ?? null;
}

function isProgram(file) {
  try {
    accessSync(file, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/** Chromium's path, installed from Debian where it is missing; null where that cannot be done. */
export function haveChromium() {
  const found = findChromium();
  if (found !== null || process.getuid?.() !== 0) return found;
  const apt = (...args) =>
    spawnSync('apt-get', args, {
      stdio: ['ignore', 'ignore', 'inherit'],
      env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
    }).status === 0;
  const install = () => apt('install', '-y', '--no-install-recommends', 'chromium');
  console.log('Installing Chromium for the browser tests …');
  // The lists may be missing or old; they are only fetched when they are needed.
  if (!install() && apt('update')) install();
  return findChromium();
}
