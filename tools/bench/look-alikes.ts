// Makes a registry of look-alikes: many sizes of one cuff, each of three parts, none the same as another; and one variant
// of another device with a shell that is one of them, scaled, which nobody declared.
//
//   npx tsx -C source tools/bench/look-alikes.ts FOLDER VARIANTS declared|undeclared
//
// `declared`: they are remixes of each other, in a tree; `undeclared`: nobody says what came from what.
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { contentDigest, readDocument } from '@kinprint/manifest';
import { writeStlBinary, type Mesh } from '@kinprint/mesh';
import { loadKernel } from '@kinprint/solid';
import { after, mapped, motion, scaling } from '../corpus/transform.ts';
import * as shapes from '../demo/shapes/index.ts';

const [folder, count, lineage] = process.argv.slice(2);
const variants = Number(count);
const declared = lineage === 'declared';
const kernel = await loadKernel();
const segments = 24;
const work = `${folder}.making`;
rmSync(work, { recursive: true, force: true });
mkdirSync(work, { recursive: true });
writeFileSync(path.join(work, 'registry.yaml'), 'kinprint: registry/1\nname: Look-alikes\n');

const digests = new Map<string, string>();
let taken: Mesh | null = null;
for (let k = 0; k < variants; k++) {
  const size = k / variants;
  const parts = {
    shell: shapes.buildMesh(
      kernel,
      shapes.cuffShell({ segments, palmBreadth: 50 + 20 * size, bossAt: 4 + (k % 7) / 4 }),
    ),
    leaf: shapes.buildMesh(
      kernel,
      shapes.hingeLeaf({ segments, length: 24 + 12 * size, hingeBore: 3 + (k % 5) / 10 }),
    ),
    sleeve: shapes.buildMesh(kernel, shapes.utensilSleeve({ segments, length: 30 + 12 * size })),
  };
  if (k === Math.floor(variants * 0.7)) taken = parts.shell;
  const parent = `cuff/size-${Math.floor((k - 1) / 2)}`;
  await variant('cuff', `size-${k}`, '2025-03-14', parts, declared && k > 0 ? parent : null);
}
if (taken === null) throw new Error('no variants');
const shell = mapped(taken, after(motion([1, 2, 3], 40, [30, 5, -7]), scaling(1.1)));
await variant('pen', 'taken', '2026-03-14', { shell }, null);

const git = (...args: string[]) =>
  execFileSync('git', ['-C', work, ...args], { stdio: ['ignore', 'ignore', 'inherit'] });
git('init', '-q', '-b', 'main');
git('add', '-A');
git(
  '-c',
  'user.name=Robin Sample',
  '-c',
  'user.email=robin@example.org',
  'commit',
  '-q',
  '-m',
  'Look-alikes',
);
renameSync(work, folder);

async function variant(
  device: string,
  name: string,
  date: string,
  parts: Readonly<Record<string, Mesh>>,
  from: string | null,
): Promise<void> {
  const home = path.join(work, 'devices', device, name);
  mkdirSync(path.join(home, 'parts'), { recursive: true });
  writeFileSync(
    path.join(work, 'devices', device, 'device.yaml'),
    `kinprint: device/1\ntitle: ${device}\npurpose: Holds a spoon.\n`,
  );
  const files = Object.entries(parts).map(([id, mesh]) => {
    const bytes = writeStlBinary(mesh);
    writeFileSync(path.join(home, `parts/${id}.stl`), bytes);
    return { path: `parts/${id}.stl`, sha256: createHash('sha256').update(bytes).digest('hex') };
  });
  const text = [
    'kinprint: variant/1',
    `title: ${device} ${name}`,
    `license: ${device === 'cuff' ? 'CC-BY-SA-4.0' : 'MIT'}`,
    'authors:',
    `  - name: ${device === 'cuff' ? 'Robin Sample' : 'Kim Example'}`,
    ...(from === null
      ? []
      : [
          'derivations:',
          `  - from: ${from}@A`,
          `    digest: ${digests.get(from) ?? ''}`,
          '    relation: remix',
          '    changes: Another size.',
        ]),
    'parts:',
    ...Object.keys(parts).flatMap(id => [`  - id: ${id}`, `    mesh: parts/${id}.stl`]),
    '',
  ].join('\n');
  const read = readDocument('variant', text, 'variant.yaml');
  if (read.value === null) throw new Error(JSON.stringify(read.problems));
  const digest = await contentDigest(read.value, files);
  digests.set(`${device}/${name}`, digest);
  writeFileSync(
    path.join(home, 'variant.yaml'),
    `${text}revisions:\n  - letter: A\n    digest: ${digest}\n    date: ${date}\n    by: Robin Sample\n`,
  );
}
