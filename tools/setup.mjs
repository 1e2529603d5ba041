// Makes a bare clone ready: installs the locked dependencies where they are missing or out of date.
import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { createHash } from 'node:crypto';
import { fileURLToPath } from 'node:url';
import path from 'node:path';

export const root = path.dirname(path.dirname(fileURLToPath(import.meta.url)));

export function run(command, args, options = {}) {
  execFileSync(command, args, { cwd: root, stdio: 'inherit', ...options });
}

export function setup() {
  const lock = createHash('sha256')
    .update(readFileSync(path.join(root, 'package-lock.json')))
    .digest('hex');
  const stamp = path.join(root, 'node_modules', '.kinprint-lock');
  if (existsSync(stamp) && readFileSync(stamp, 'utf8') === lock) return;
  // No install script of any dependency is run: everything needed ships inside the packages.
  run('npm', ['ci', '--ignore-scripts', '--no-audit', '--no-fund']);
  writeFileSync(stamp, lock);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) setup();
