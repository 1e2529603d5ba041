import { execFileSync, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import {
  contentDigest,
  contentListing,
  editDocument,
  readDocument,
  type ListedFile,
  type VariantDocument,
} from '@kinprint/manifest';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../../', import.meta.url));
/** The commands of docs/digest.md, as they stand there. */
const [byNode = '', byPython = ''] = [
  ...readFileSync(path.join(root, 'docs/digest.md'), 'utf8').matchAll(/```sh\n(.*?)```/gs),
].map(block => block[1] ?? '');

const manifest = `# The cuff
kinprint: variant/1
title: "Cuff – für Äpfel 😂"
license: CC-BY-SA-4.0
authors: [{ name: Ann, roles: [x-testing, methodology] }]
parts:
  - { mesh: parts/shell.stl, id: shell, quantity: 2, print: { layer_height_mm: 0.20, walls: 3 } }
summary: |
  Two lines,
  with "quotes" and \\ strokes.
`;
const revisions = `revisions:\n  - { letter: A, digest: 'sha256:${'0'.repeat(64)}', date: '2026-03-14' }\n`;
/** Names that sort, quote or hide in their own ways. */
const files: Readonly<Record<string, string>> = {
  'parts/shell.stl': 'solid shell\r\nendsolid\r\n',
  'parts/shell': '',
  'parts-old.txt': 'x',
  'parts.txt': 'y',
  'Read me – bitte.md': 'z\n',
  '-n': 'dash',
  'source/ä/é.scad': 'cube(1);',
  'source/z.scad': 'cube(2);',
  'source/😂.scad': 'cube(3);',
  // Sorts behind the one above by UTF-16 units, before it by the bytes of UTF-8.
  'source/\ufb33.scad': 'cube(4);',
  "it's $HOME.txt": 'quoted',
  'a  b': 'two spaces',
  'source/variant.yaml': 'not the manifest',
  '.hidden': 'left out',
  'source/.git/config': 'left out',
};
const hash = (text: string): string => createHash('sha256').update(text).digest('hex');
const listed: readonly ListedFile[] = Object.entries(files).map(([name, text]) => ({
  path: name,
  sha256: hash(text),
}));

function value(text: string): VariantDocument {
  const read = readDocument('variant', text, 'variant.yaml');
  if (read.value === null) throw new Error(read.problems[0]?.text);
  return read.value;
}

let folder = '';
let variant = '';
beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'kinprint-digest-'));
  // The packages that the document asks for, in a folder above.
  symlinkSync(path.join(root, 'node_modules'), path.join(folder, 'node_modules'));
  variant = path.join(folder, 'devices/cuff/small');
  for (const [name, text] of Object.entries(files)) {
    const file = path.join(variant, name);
    mkdirSync(path.dirname(file), { recursive: true });
    writeFileSync(file, text);
  }
  writeFileSync(path.join(variant, 'variant.yaml'), manifest + revisions);
});
afterAll(() => rmSync(folder, { recursive: true }));

const shell = (script: string): string =>
  execFileSync('bash', ['-euo', 'pipefail', '-c', script], { cwd: variant, encoding: 'utf8' });
const pythonHasYaml = spawnSync('python3', ['-c', 'import yaml']).status === 0;

describe('the commands of docs/digest.md', () => {
  it('give the digest (sha256sum, sort, find, Node)', async () => {
    expect(shell(byNode).trim()).toBe(await contentDigest(value(manifest + revisions), listed));
  });

  it('give the listing', async () => {
    const listing = byNode.replace(/ \| sha256sum \| sed.*\n$/, '\n');
    expect(listing).not.toBe(byNode);
    expect(shell(listing)).toBe(await contentListing(value(manifest), listed));
  });

  it.skipIf(!pythonHasYaml)('give it with Python too, where it says so', async () => {
    const script = byPython + byNode.slice(byNode.indexOf('\n{'));
    expect(shell(script).trim()).toBe(await contentDigest(value(manifest), listed));
  });
});

describe('the digest of a content', () => {
  it('is known (a variant without files, canonical form written by hand)', async () => {
    const canonical = '{"kinprint":"variant/1","parts":[],"title":"T"}';
    const bare = value('title: T\nkinprint: variant/1\nparts: []\n');
    expect(await contentListing(bare, [])).toBe(`${hash(canonical)}  variant.yaml\n`);
    expect(await contentDigest(bare, [])).toBe(`sha256:${hash(`${hash(canonical)}  variant.yaml\n`)}`);
  });

  it('does not depend on the order of files and keys, comments, line ends, or what was recorded', async () => {
    const expected = await contentDigest(value(manifest), listed);
    const same = [
      manifest + revisions,
      manifest.replaceAll('\n', '\r\n'),
      `\uFEFF${manifest}`,
      manifest.replace('0.20', '2.0e-1').replace('# The cuff\n', ''),
      editDocument(editDocument(manifest, [{ path: ['license'], value: undefined }]), [
        { path: ['license'], value: 'CC-BY-SA-4.0' },
      ]),
    ];
    for (const text of same) expect(await contentDigest(value(text), listed)).toBe(expected);
    await fc.assert(
      fc.asyncProperty(fc.shuffledSubarray([...listed], { minLength: listed.length }), async shuffled => {
        expect(await contentDigest(value(manifest), shuffled)).toBe(expected);
      }),
      { numRuns: 20 },
    );
  });

  it('depends on every file, its name, and every value', async () => {
    const digests = new Set<string>([await contentDigest(value(manifest), listed)]);
    const visible = listed.filter(file => !file.path.split('/').some(step => step.startsWith('.')));
    for (const file of visible) {
      const rest = listed.filter(other => other !== file);
      digests.add(await contentDigest(value(manifest), rest));
      digests.add(await contentDigest(value(manifest), [...rest, { ...file, path: `${file.path}x` }]));
      digests.add(
        await contentDigest(value(manifest), [...rest, { ...file, sha256: hash(`${file.path}!`) }]),
      );
    }
    digests.add(await contentDigest(value(manifest.replace('walls: 3', 'walls: 4')), listed));
    digests.add(
      await contentDigest(
        value(manifest.replace('x-testing, methodology', 'methodology, x-testing')),
        listed,
      ),
    );
    expect(digests.size).toBe(3 * visible.length + 3);
  });

  it('is refused for names that a line cannot hold, names given twice, and malformed hashes', async () => {
    const one = { path: 'a', sha256: '0'.repeat(64) };
    for (const bad of [
      [{ ...one, path: 'a\nb' }],
      [{ ...one, path: 'a\\b' }],
      [{ ...one, path: '' }],
      [one, one],
      [{ ...one, sha256: 'A'.repeat(64) }],
    ])
      await expect(contentDigest(value(manifest), bad)).rejects.toThrow(/twice|listed|no SHA-256/);
  });
});
