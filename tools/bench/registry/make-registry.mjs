// Makes a registry of any size, the same one each time: devices of 50 variants, each variant of 5 parts, derived from
// each other in chains that branch, all recorded, in a git repository of one commit.
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { angle, box, leaning, mirrored, pin, scaled, stl, tube } from './shapes.mjs';

const perDevice = 50;
const shapes = [
  {
    id: 'shell',
    faces: tube(32, 30, 27, 45),
    interfaces: s => [
      `{ id: inside, kind: bore, nominal_mm: ${mm(54 * s)}, tolerance_mm: { plus: 0.1, minus: 0.5 } }`,
    ],
  },
  { id: 'strap', faces: box(60, 18, 3), interfaces: () => [] },
  {
    id: 'buckle',
    faces: tube(24, 9, 3, 6),
    interfaces: s => [`{ id: eye, kind: bore, nominal_mm: ${mm(6 * s)}, axis: [0, 0, 1] }`],
  },
  {
    id: 'pivot',
    faces: pin(32, 2.9, 30),
    interfaces: s => [`{ id: shaft, kind: pin, nominal_mm: ${mm(5.8 * s)}, axis: [0, 0, 1] }`],
  },
  { id: 'hook', faces: leaning(angle(40, 25, 4, 12), [3, 7]), interfaces: () => [] },
];

/** Makes it where it is missing; the folder's name tells its size. */
export async function makeRegistry(parent, variants) {
  const folder = path.join(parent, `registry-${variants}`);
  if (existsSync(folder)) return folder;
  const { contentDigest, readDocument } = await import('@kinprint/manifest');
  const work = `${folder}.making`;
  rmSync(work, { recursive: true, force: true });
  mkdirSync(work, { recursive: true });
  writeFileSync(path.join(work, 'registry.yaml'), registryText);
  writeFileSync(path.join(work, '.gitattributes'), 'devices/** -text\n');
  const digests = new Map();
  for (let k = 0; k < variants; k++) {
    const [device, index] = [`device-${number(Math.floor(k / perDevice))}`, k % perDevice];
    const home = path.join(work, 'devices', device, `variant-${number(index)}`);
    mkdirSync(path.join(home, 'parts'), { recursive: true });
    if (index === 0)
      writeFileSync(
        path.join(work, 'devices', device, 'device.yaml'),
        `kinprint: device/1\ntitle: ${device}\npurpose: Holds a spoon.\n`,
      );
    // Every tenth variant is the mirror of the one before it, the others are remixes.
    const isMirror = index % 10 === 9;
    const s = 1 + 0.0001 * (isMirror ? k - 1 : k);
    const files = shapes.map(({ id, faces }) => {
      const bytes = stl(isMirror ? mirrored(scaled(faces, s)) : scaled(faces, s));
      writeFileSync(path.join(home, 'parts', `${id}.stl`), bytes);
      return { path: `parts/${id}.stl`, sha256: createHash('sha256').update(bytes).digest('hex') };
    });
    const parentIndex = isMirror ? index - 1 : Math.floor((index - 1) / 2);
    const from = `${device}/variant-${number(parentIndex)}`;
    const derivation =
      index === 0 ? '' : derivationText(from, digests.get(from), isMirror ? 'mirror' : 'remix');
    const text = variantText(`${device}, number ${index}`, s, derivation);
    const read = readDocument('variant', text, 'variant.yaml');
    if (read.value === null) throw new Error(JSON.stringify(read.problems));
    const digest = await contentDigest(read.value, files);
    digests.set(`${device}/variant-${number(index)}`, digest);
    writeFileSync(
      path.join(home, 'variant.yaml'),
      `${text}revisions:\n  - letter: A\n    digest: ${digest}\n    date: 2026-03-14\n    by: Robin Sample\n`,
    );
  }
  const git = (...args) =>
    execFileSync('git', ['-C', work, ...args], { env: identity, stdio: ['ignore', 'ignore', 'inherit'] });
  git('init', '-q', '-b', 'main');
  git('add', '-A');
  git('commit', '-q', '-m', 'A registry to measure by');
  renameSync(work, folder);
  return folder;
}

const identity = {
  PATH: process.env.PATH,
  GIT_CONFIG_NOSYSTEM: '1',
  GIT_CONFIG_GLOBAL: '/dev/null',
  GIT_AUTHOR_NAME: 'Robin Sample',
  GIT_AUTHOR_EMAIL: 'robin@example.org',
  GIT_COMMITTER_NAME: 'Robin Sample',
  GIT_COMMITTER_EMAIL: 'robin@example.org',
  GIT_AUTHOR_DATE: '2026-03-14T12:00:00Z',
  GIT_COMMITTER_DATE: '2026-03-14T12:00:00Z',
};

const registryText = `kinprint: registry/1
name: Generated registry
license: CC-BY-4.0
printers:
  - id: bench
    build_volume_mm: [220, 220, 250]
    nozzle_mm: 0.4
materials:
  - id: petg
    density_g_cm3: 1.27
  - id: tpu
    density_g_cm3: 1.21
policy:
  thinnest_wall_mm: 0.8
`;

function variantText(title, s, derivation) {
  const parts = shapes.map(({ id, interfaces }) => {
    const declared = interfaces(s).map(line => `      - ${line}\n`);
    return `  - id: ${id}
    title: ${id}
    mesh: parts/${id}.stl
    material: ${id === 'strap' ? 'tpu' : 'petg'}
    print:
      layer_height_mm: 0.2
      walls: 3
      infill_percent: 20
      nozzle_mm: 0.4
${declared.length > 0 ? `    interfaces:\n${declared.join('')}` : ''}`;
  });
  return `kinprint: variant/1
title: ${title}
summary: Generated, to measure by.
authors:
  - name: Robin Sample
    roles: [conceptualization]
${derivation}parts:
${parts.join('')}hardware:
  - id: screw
    title: Screw
    quantity: 2
    standard: ISO 4762
    size: M3 × 16
    unit_cost: { value: 0.12, currency: EUR }
`;
}

function derivationText(from, digest, relation) {
  return `derivations:
  - from: ${from}@A
    digest: ${digest}
    relation: ${relation}
    changes: Another size.
`;
}

function number(k) {
  return String(k).padStart(4, '0');
}

function mm(value) {
  return Number(value.toFixed(4));
}
