import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { concatenate, transformMesh, writeStlBinary, type Affine, type Mesh } from '@kinprint/mesh';
import { presentContent, readRegistry, summarizeChanges, variantOf, workingFiles } from '@kinprint/registry';
import { loadKernel } from '@kinprint/solid';
import { buildMesh, hingeLeaf } from '../../tools/demo/shapes/index.ts';
import { angle, box, temporaryFolder } from '../support/meshes.ts';

const made: { remove(): void }[] = [];
afterAll(() => made.forEach(folder => folder.remove()));

interface Content {
  readonly manifest: string;
  readonly files: Readonly<Record<string, Mesh | string>>;
}

/** What the summary of changes says from one content to the other. */
async function changes(before: Content, after: Content): Promise<string[]> {
  const contents = [];
  for (const { manifest, files } of [before, after]) {
    const folder = temporaryFolder();
    made.push(folder);
    const all = { 'variant.yaml': `kinprint: variant/1\ntitle: Cuff\n${manifest}`, ...files };
    for (const [file, content] of Object.entries(all)) {
      const absolute = path.join(folder.path, 'devices/cuff/left', file);
      mkdirSync(path.dirname(absolute), { recursive: true });
      writeFileSync(absolute, typeof content === 'string' ? content : writeStlBinary(content));
    }
    writeFileSync(path.join(folder.path, 'registry.yaml'), 'kinprint: registry/1\nname: x\n');
    const state = await readRegistry(workingFiles(folder.path));
    contents.push(presentContent(state, variantOf(state, 'cuff/left')));
  }
  return summarizeChanges(contents[0], contents[1]);
}

const part = (id: string, more = '') => `  - {id: ${id}, mesh: parts/${id}.stl${more}}\n`;
const mapped = (mesh: Mesh, matrix: Affine) => transformMesh(mesh, matrix);
const diagonal = (x: number, y: number, z: number, at = 0): Affine => [
  [x, 0, 0, at],
  [0, y, 0, 0],
  [0, 0, z, 0],
  [0, 0, 0, 1],
];

it('names a reworked bore with both diameters, its place, and the material', async () => {
  const kernel = await loadKernel();
  const manifest = `parts:\n${part('leaf')}`;
  const [line, ...more] = await changes(
    { manifest, files: { 'parts/leaf.stl': buildMesh(kernel, hingeLeaf({ hingeBore: 3.2 })) } },
    { manifest, files: { 'parts/leaf.stl': buildMesh(kernel, hingeLeaf({ hingeBore: 3 })) } },
  );
  expect(more).toEqual([]);
  expect(line).toMatch(/^leaf: reworked; bore 3\.20 → 3\.00 mm at \(.*\); \+\d+\.\d mm³$/);
  // A regular 48-gon's area is n/2 · r² · sin(2π/n); the knuckle is 10.6 mm long.
  const gone = (48 / 2) * Math.sin((2 * Math.PI) / 48) * (1.6 ** 2 - 1.5 ** 2) * 10.6;
  expect(Number(/\+([0-9.]+) mm³/.exec(line)?.[1])).toBeCloseTo(gone, 0);
}, 120_000);

it('names parts that came, went, moved, were mirrored, scaled, renamed or exported again', async () => {
  const shape = angle(40, 30, 4, 20);
  const old = ['gone', 'mirrored', 'moved', 'same', 'scaled', 'was'];
  const now = ['came', 'is', 'mirrored', 'moved', 'same', 'scaled'];
  const sized = (k: number) => angle(40 + 3 * k, 20 + 5 * k, 3 + k, 11 + 2 * k);
  const lines = await changes(
    {
      manifest: `parts:\n${old.map(id => part(id)).join('')}`,
      files: {
        'parts/gone.stl': box(3, 5, 91),
        'parts/mirrored.stl': bumped(sized(1)),
        'parts/moved.stl': sized(2),
        'parts/same.stl': box(10, 20, 30),
        'parts/scaled.stl': sized(3),
        'parts/was.stl': shape,
      },
    },
    {
      manifest: `parts:\n${now.map(id => part(id)).join('')}`,
      files: {
        'parts/came.stl': concatenate([box(1, 1, 60), box(9, 1, 1, [20, 0, 0])]),
        'parts/is.stl': shape,
        'parts/mirrored.stl': mapped(bumped(sized(1)), diagonal(-1, 1, 1)),
        'parts/moved.stl': mapped(sized(2), diagonal(1, 1, 1, 5)),
        'parts/same.stl': box(10, 20, 30),
        'parts/scaled.stl': mapped(sized(3), diagonal(1.1, 1.1, 1.1)),
      },
    },
  );
  expect(lines).toEqual([
    'came: added',
    'gone: removed',
    'is: renamed from was',
    expect.stringMatching(/^mirrored: mirrored/),
    'moved: moved by (5.0, 0.0, 0.0) mm',
    'scaled: scaled by 1.1',
  ]);
}, 120_000);

it('says what the manifest and other files changed, quoting what is short', async () => {
  const files = { 'parts/shell.stl': box(10, 20, 30) };
  const lines = await changes(
    {
      manifest: `summary: old\nlicense: CC-BY-4.0\nauthors: [{name: Ines Sample}]\nparts:\n${part('shell', ', material: petg, print: {walls: 2, layer_height_mm: 0.2}')}hardware:\n  - {id: screw, title: Screw, quantity: 2}\n  - {id: cord, title: Cord, quantity: 1}\ncautions: [One.]\n`,
      files: { ...files, 'source/a.step': 'a', 'source/b.step': 'b' },
    },
    {
      manifest: `summary: new\nlicense: CC-BY-SA-4.0\nauthors: [{name: Ines Sample, roles: [software]}, {name: Kim Example}]\nparts:\n${part('shell', ', material: tpu, quantity: 2, print: {layer_height_mm: 0.3}')}hardware:\n  - {id: screw, title: Screw, quantity: 3}\n  - {id: pad, title: Pad, quantity: 1}\ncautions: [One., Two.]\n`,
      files: { ...files, 'source/a.step': 'a2', 'source/c.step': 'c' },
    },
  );
  expect(lines).toEqual([
    'license: CC-BY-4.0 → CC-BY-SA-4.0',
    'summary: changed',
    'authors: Kim Example added',
    'shell: quantity: 1 → 2',
    'shell: material: petg → tpu',
    'shell: print walls: no longer stated (was 2)',
    'shell: print layer height: 0.2 → 0.3',
    'hardware: pad added',
    'hardware: cord removed',
    'hardware: screw changed',
    'cautions: changed',
    'source/a.step: changed',
    'source/b.step: removed',
    'source/c.step: added',
  ]);
});

it('measures in millimeters whatever unit a part is in', async () => {
  const manifest = `parts:\n${part('shell', ', unit: inch')}`;
  const [line] = await changes(
    { manifest, files: { 'parts/shell.stl': angle(4, 3, 0.4, 2) } },
    { manifest, files: { 'parts/shell.stl': angle(4, 3, 0.5, 2) } },
  );
  const area = (t: number) => 4 * t + (3 - t) * t;
  const added = 25.4 ** 3 * 2 * (area(0.5) - area(0.4));
  expect(Number(/\+([0-9.]+) mm³/.exec(line)?.[1])).toBeCloseTo(added, -1);
}, 60_000);

/** With a foot on one side, so that it differs from its mirror image. */
function bumped(mesh: Mesh): Mesh {
  return concatenate([mesh, box(3, 4, 5, [60, 1, 2]), box(2, 2, 2, [70, 20, 30])]);
}
