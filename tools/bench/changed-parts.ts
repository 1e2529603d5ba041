// Makes a registry in which many parts change between `main` and `change`: plates with ribs, holes and pegs at random
// places, none the same as another; each gets one more rib, hole or peg. The same one each time.
//
//   npx tsx -C source tools/bench/changed-parts.ts FOLDER PARTS
import { execFileSync } from 'node:child_process';
import { mkdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { writeStlBinary, type Mesh } from '@kinprint/mesh';
import { loadKernel } from '@kinprint/solid';
import { randomFrom } from '../../packages/mesh/src/testing/motions.ts';
import { box, buildMesh, cylinder, difference, moved, union, type Solid } from '../demo/shapes/index.ts';

const [folder, count] = process.argv.slice(2);
const parts = Number(count);
const perVariant = 10;
const kernel = await loadKernel();
const work = `${folder}.making`;
rmSync(work, { recursive: true, force: true });
mkdirSync(path.join(work, 'devices/plate'), { recursive: true });
writeFileSync(path.join(work, 'registry.yaml'), 'kinprint: registry/1\nname: Parts that change\n');
writeFileSync(
  path.join(work, 'devices/plate/device.yaml'),
  'kinprint: device/1\ntitle: Plates\npurpose: Hold a spoon.\n',
);
const git = (...args: string[]) =>
  execFileSync(
    'git',
    ['-C', work, '-c', 'user.name=Robin Sample', '-c', 'user.email=robin@example.org', ...args],
    { stdio: ['ignore', 'ignore', 'inherit'] },
  );
git('init', '-q', '-b', 'main');
for (const state of ['main', 'change'] as const) {
  if (state === 'change') git('checkout', '-q', '-b', state);
  for (let k = 0; k < parts; k++) {
    const home = path.join(work, `devices/plate/variant-${Math.floor(k / perVariant)}`);
    mkdirSync(path.join(home, 'parts'), { recursive: true });
    writeFileSync(path.join(home, `parts/part-${k}.stl`), writeStlBinary(part(k, state === 'change')));
    if (state === 'main' && k % perVariant === 0) writeFileSync(path.join(home, 'variant.yaml'), manifest(k));
  }
  git('add', '-A');
  git('commit', '-q', '-m', state);
}
git('checkout', '-q', 'main');
renameSync(work, folder);

function manifest(first: number): string {
  const ids = Array.from({ length: Math.min(perVariant, parts - first) }, (_, k) => `part-${first + k}`);
  const lines = ids.map(id => `  - id: ${id}\n    mesh: parts/${id}.stl\n`);
  return `kinprint: variant/1\ntitle: Plates from ${first}\nlicense: CC-BY-SA-4.0\nauthors:\n  - name: Robin Sample\nparts:\n${lines.join('')}`;
}

/** A plate with three to nine things on it, and one more when it is changed. */
function part(seed: number, changed: boolean): Mesh {
  const random = randomFrom(1000 + seed);
  const between = (low: number, high: number): number => low + (high - low) * random();
  const size = [between(40, 90), between(25, 60), between(3, 7)] as const;
  const things = 3 + Math.floor(between(0, 7));
  const added: Solid[] = [];
  const holes: Solid[] = [];
  for (let n = 0; n < things + 1; n++) {
    const [x, y] = [between(8, size[0] - 8) - size[0] / 2, between(8, size[1] - 8) - size[1] / 2];
    const kind = Math.floor(between(0, 3));
    const [width, height, segments] = [between(2, 6), between(4, 12), Math.floor(between(16, 64))];
    if (n === things && !changed) continue;
    if (kind === 0) holes.push(moved(cylinder(width, 20, segments), x, y, -1));
    else if (kind === 1) added.push(moved(box(width / 2, height, size[2] + height), x, y, 0));
    else added.push(moved(cylinder(width + 2, size[2] + height, segments, width), x, y, 0));
  }
  return buildMesh(kernel, difference(union(box(...size), ...added), ...holes));
}
