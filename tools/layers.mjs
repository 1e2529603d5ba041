// Guards the layer rule itself: a check that looked at nothing must not pass.
import { execFileSync } from 'node:child_process';
import path from 'node:path';
import { root } from './setup.mjs';

const least = 550;
const out = execFileSync(
  path.join(root, 'node_modules/.bin/depcruise'),
  ['--config', '.dependency-cruiser.cjs', '--output-type', 'json', 'packages'],
  { cwd: root, encoding: 'utf8', maxBuffer: 1 << 28 },
);
const cruised = JSON.parse(out).summary.totalCruised;
if (cruised < least) {
  console.error(
    `The layer check looked at ${cruised} modules; at least ${least} exist. Is TypeScript found by it?`,
  );
  process.exit(1);
}
