import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { readRegistry } from '../state/read-registry.ts';
import { workingFiles } from '../state/working-files.ts';
import type { RegistryState } from '../state/types.ts';
import { removeTemporaryFolders, temporaryFolder } from '../testing/temporary-repository.ts';
import { lineageOf } from './lineage-of.ts';

afterAll(removeTemporaryFolders);

const digest = (c: string): string => `sha256:${c.repeat(64)}`;

/** A registry whose variants are given by what stands below `parts: []` in their manifests. */
function registry(top: string, variants: Readonly<Record<string, string>>): Promise<RegistryState> {
  const folder = temporaryFolder();
  writeFileSync(path.join(folder, 'registry.yaml'), `kinprint: registry/1\nname: Lending group\n${top}`);
  for (const [address, rest] of Object.entries(variants)) {
    const below = path.join(folder, 'devices', address);
    mkdirSync(below, { recursive: true });
    writeFileSync(path.join(below, 'variant.yaml'), `kinprint: variant/1\ntitle: ${address}\n${rest}`);
  }
  return readRegistry(workingFiles(folder));
}

const recorded = (...letters: string[]): string =>
  `parts: []\nrevisions:\n${letters.map((l, k) => `  - { letter: ${l}, digest: '${digest(String(k))}', date: 2024-01-0${k + 1}, by: Robin }\n`).join('')}`;
const from = (...list: string[]): string => `derivations:\n${list.map(l => `  - { ${l} }\n`).join('')}`;

const links = (graph: ReturnType<typeof lineageOf>): string[] =>
  graph.edges.map(e => `${e.from} ${e.relation} ${e.to}${e.otherDigest ? ' other digest' : ''}`);
const statuses = (graph: ReturnType<typeof lineageOf>): Record<string, string> =>
  Object.fromEntries(graph.nodes.map(n => [n.id, n.status]));

describe('the lineage of a registry', () => {
  it('links letters to the letter before, and the first letter to what the variant came from', async () => {
    const state = await registry('license: CC-BY-SA-4.0\n', {
      'cuff/right': `license: MIT\nauthors: [{ name: Robin }, { name: Kim }]\nfit: { body_measure: hand-breadth, base_mm: 58 }\n${recorded('A', 'B', 'C').replace('parts: []', 'parts: [{ id: shell, mesh: parts/s.stl, hand: right }, { id: pad, mesh: parts/p.stl, hand: both }]')}`,
      'cuff/left':
        from(`from: cuff/right@B, relation: mirror, digest: '${digest('1')}', changes: Mirrored.`) +
        recorded('A', 'B'),
      'cuff/new': `${from(`from: cuff/right@C, relation: remix, digest: '${digest('9')}'`, 'from: cuff/left@A, relation: combination')}parts: []\n`,
    });
    const graph = lineageOf(state);
    expect(links(graph)).toEqual([
      'cuff/left@A mirror cuff/right@B',
      'cuff/left@B revision cuff/left@A',
      'cuff/new combination cuff/left@A',
      'cuff/new remix cuff/right@C other digest',
      'cuff/right@B revision cuff/right@A',
      'cuff/right@C revision cuff/right@B',
    ]);
    expect(graph.nodes.find(n => n.id === 'cuff/right@B')).toEqual({
      id: 'cuff/right@B',
      address: 'cuff/right',
      letter: 'B',
      title: 'cuff/right',
      license: 'MIT',
      authors: ['Robin', 'Kim'],
      hand: 'right',
      fit: { body_measure: 'hand-breadth', base_mm: 58 },
      date: '2024-01-02',
      by: 'Robin',
      digest: digest('1'),
      status: 'recorded',
    });
    expect(graph.nodes.find(n => n.id === 'cuff/new')).toMatchObject({
      license: 'CC-BY-SA-4.0',
      status: 'unrecorded',
      hand: null,
    });
    expect(graph.edges[0].changes).toBe('Mirrored.');
  });

  it('orders letters as drawings do, and adds the present content where it has changed', async () => {
    const state = await registry('', { 'cuff/right': recorded('A', 'Y', 'AA', 'B') });
    const graph = lineageOf(state, {
      changed: new Set(['cuff/right']),
      decided: new Map([['cuff/right@A', 'withdrawn']]),
    });
    expect(statuses(graph)).toEqual({
      'cuff/right@A': 'withdrawn',
      'cuff/right@B': 'recorded',
      'cuff/right@Y': 'recorded',
      'cuff/right@AA': 'recorded',
      'cuff/right': 'changed',
    });
    expect(graph.nodes.map(n => n.letter)).toEqual(['A', 'B', 'Y', 'AA', null]);
    expect(links(graph)).toContain('cuff/right revision cuff/right@B');
  });

  it('leaves nothing out that people wrote: what is not there has a node that says why', async () => {
    const state = await registry("sources: { known: { git: 'https://example.org/known.git' } }\n", {
      'cuff/right': recorded('A'),
      'cuff/broken': 'parts: 7\n',
      'cuff/new': `${from(
        'from: cuff/right@F, relation: remix',
        'from: cuff/gone@A, relation: copy',
        'from: cuff/broken@B, relation: remix',
        "from: 'known:cuff/x@A', relation: remix",
        "from: 'unheard:cuff/x@A', relation: remix",
      )}parts: []\n`,
    });
    expect(statuses(lineageOf(state))).toEqual({
      'cuff/broken': 'unreadable',
      'cuff/broken@B': 'unreadable',
      'cuff/gone@A': 'missing',
      'cuff/new': 'unrecorded',
      'cuff/right@A': 'recorded',
      'cuff/right@F': 'missing',
      'known:cuff/x@A': 'elsewhere',
      'unheard:cuff/x@A': 'missing',
    });
  });

  it('takes in of other registries only what ours came from, under the name we gave them', async () => {
    const other = await registry('license: CC0-1.0\n', {
      'cuff/base': recorded('A', 'B'),
      'cuff/grip':
        from('from: cuff/base@B, relation: remix', "from: 'third:a/b@A', relation: copy") + recorded('A'),
      'cuff/unrelated': recorded('A'),
    });
    const state = await registry("sources: { known: { git: 'https://example.org/known.git' } }\n", {
      'cuff/mine':
        from("from: 'known:cuff/grip@A', relation: remix", "from: 'known:cuff/grip@D', relation: remix") +
        recorded('A'),
    });
    const graph = lineageOf(state, { sources: new Map([['known', other]]) });
    expect(statuses(graph)).toEqual({
      'cuff/mine@A': 'recorded',
      'known:cuff/base@A': 'recorded',
      'known:cuff/base@B': 'recorded',
      'known:cuff/grip@A': 'recorded',
      'known:cuff/grip@D': 'missing',
      'known:third:a/b@A': 'elsewhere',
    });
    expect(links(graph)).toContain('known:cuff/grip@A remix known:cuff/base@B');
    expect(graph.nodes.find(n => n.id === 'known:cuff/base@A')?.license).toBe('CC0-1.0');
    expect(graph.nodes.find(n => n.id === 'cuff/mine@A')?.license).toBeNull();
  });
});
