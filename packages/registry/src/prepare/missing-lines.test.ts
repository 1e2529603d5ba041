import { describe, expect, it } from 'vitest';
import { readDocument, type VariantDocument } from '@kinprint/manifest';
import { measureMesh, type Mesh } from '@kinprint/mesh';
import { plateWithHoles } from '../../../mesh/src/testing/plate.ts';
import { factsOf, type PartFacts } from '../check/facts.ts';
import { joinRelatives, type KnownRelative } from './join-relatives.ts';
import { missingLines, type ManifestKnowledge } from './missing-lines.ts';
import { undeclaredRounds } from './undeclared-rounds.ts';

const digest = `sha256:${'ab'.repeat(32)}`;

function facts(mesh: Mesh): PartFacts {
  return factsOf(measureMesh(mesh));
}

function read(text: string): VariantDocument {
  const { value, problems } = readDocument('variant', text, 'variant.yaml');
  expect(problems).toEqual([]);
  return value!;
}

const unknown = { digest: null, summary: null, license: null, changes: null };
const reworked = { parents: [{ ...unknown, changes: 'shell: reworked.' }] };

function knowledge(text: string, more: Partial<ManifestKnowledge> = {}): ManifestKnowledge {
  const manifest = read(text);
  return {
    text,
    manifest,
    added: true,
    registryLicense: null,
    parents: (manifest.derivations ?? []).map(() => unknown),
    parts: manifest.parts.map(() => ({ was: null, facts: null })),
    owed: [],
    relatives: [],
    purpose: null,
    ...more,
  };
}

/** All of them put in by hand, from the last to the first. */
function putIn(known: ManifestKnowledge): string {
  const lines = known.text.split('\n');
  for (const { line } of [...missingLines(known)].reverse())
    lines.splice(line.line - 1, line.replaces, ...line.text.split('\n'));
  return lines.join('\n');
}

const head = 'kinprint: variant/1\ntitle: Cuff\n';
const part = 'parts:\n  - id: shell\n    mesh: parts/shell.stl\n';
const remix = 'derivations:\n  - from: cuff/left@A\n    relation: remix\n';

describe('missingLines', () => {
  it('offers nothing where nothing is known', () => {
    expect(missingLines(knowledge(head + part))).toEqual([]);
  });

  it('puts what goes on with a group above what begins the next, at the same line', () => {
    const face = '    interfaces:\n      - { id: strap, kind: slot, nominal_mm: 20 }\n';
    const mesh = plateWithHoles(40, 20, 5, [{ x: 10, y: 8, r: 1.6, sides: 64 }]);
    const was = { id: 'shell', mesh: 'parts/shell.stl', material: 'petg', print: { walls: 4 } };
    const known = knowledge(`${head}${part}${face}`, { parts: [{ was, facts: facts(mesh) }] });
    const done = read(putIn(known)).parts[0];
    expect(done).toMatchObject({ material: 'petg', print: { walls: 4 } });
    expect(done.interfaces?.map(({ id }) => id)).toEqual(['strap', 'bore-1']);
  });

  it('leaves alone what somebody took out of a variant that was there', () => {
    const was = { id: 'shell', mesh: 'parts/shell.stl', material: 'petg' };
    const known = knowledge(head + part, { added: false, parts: [{ was, facts: null }] });
    expect(missingLines(known)).toEqual([]);
  });

  it('is certain of the license of one parent, and not of what several agree on', () => {
    const parent = { ...unknown, license: 'CC-BY-4.0' };
    const one = missingLines(knowledge(head + remix + part, { parents: [parent] }));
    expect(one.map(({ line }) => [line.kind, line.certain, line.text])).toEqual([
      ['license', true, 'license: CC-BY-4.0'],
    ]);
    const two = `${head}${remix}  - from: cuff/wide@B\n    relation: remix\n${part}`;
    const [both] = missingLines(knowledge(two, { parents: [parent, parent] }));
    expect(both.line).toMatchObject({ kind: 'license', certain: false });
    const differ = [parent, { ...parent, license: 'CC0-1.0' }];
    expect(missingLines(knowledge(two, { parents: differ }))).toEqual([]);
    expect(
      missingLines(knowledge(head + remix + part, { parents: [parent], registryLicense: 'CC0-1.0' })),
    ).toEqual([]);
  });

  it('takes away the mark that saying the changes settles, and no other', () => {
    const marked = (mark: string): string => `${head}${remix}    unsettled: ${mark}\n${part}`;
    const settled = read(putIn(knowledge(marked('Say what was changed.'), reworked)));
    expect(settled.derivations).toEqual([
      { from: 'cuff/left@A', relation: 'remix', changes: 'shell: reworked.' },
    ]);
    const kept = read(putIn(knowledge(marked('Ask the authors.'), reworked)));
    expect(kept.derivations?.[0]).toMatchObject({ unsettled: 'Ask the authors.' });
  });

  it('writes a line once where several things belong into it', () => {
    const text = `${head}license: CC0-1.0\nderivations: [{ from: cuff/left@A, relation: remix }]\n${part}`;
    const known = knowledge(text, { parents: [{ ...unknown, digest, changes: 'shell: reworked.' }] });
    const [{ line, made }, ...others] = missingLines(known);
    expect(others).toEqual([]);
    expect([line.line, line.replaces, line.certain]).toEqual([4, 1, false]);
    expect(made.map(({ kind, certain }) => [kind, certain])).toEqual([
      ['digest', true],
      ['changes', false],
    ]);
    expect(read(putIn(known)).derivations).toEqual([
      { from: 'cuff/left@A', relation: 'remix', digest, changes: 'shell: reworked.' },
    ]);
  });

  it('adds people and relatives to those that are named, each once', () => {
    const relative: KnownRelative = { from: 'cuff/wide@B', relation: 'copy', digest, part: 'shell' };
    const text = `${head}license: CC0-1.0\nauthors:\n  - name: Kim Sample\n${remix}${part}`;
    const known = knowledge(text, {
      owed: [{ author: { name: 'Robin Sample', url: 'https://example.org/' }, of: 'cuff/left@A' }],
      relatives: [relative, { ...relative, from: 'cuff/left@A' }],
    });
    const done = read(putIn(known));
    expect(done.authors).toEqual([
      { name: 'Kim Sample' },
      { name: 'Robin Sample', url: 'https://example.org/' },
    ]);
    expect(done.derivations).toEqual([
      { from: 'cuff/left@A', relation: 'remix' },
      { from: 'cuff/wide@B', digest, relation: 'copy' },
    ]);
  });
});

describe('joinRelatives', () => {
  const of = (from: string, relation: KnownRelative['relation'], part: string): KnownRelative => ({
    from,
    relation,
    digest: null,
    part,
  });

  it('names each variant once, by its latest letter', () => {
    const two = [of('cuff/left@A', 'copy', 'shell'), of('cuff/left@C', 'copy', 'leaf')];
    const joined = joinRelatives([...two, of('cuff/wide@B', 'mirror', 'shell')], 2);
    expect(joined).toEqual([of('cuff/left@C', 'copy', 'leaf'), of('cuff/wide@B', 'remix', 'shell')]);
    // After Y comes AA.
    const late = joinRelatives([of('cuff/left@Y', 'copy', 'shell'), of('cuff/left@AA', 'copy', 'leaf')], 2);
    expect(late.map(({ from }) => from)).toEqual(['cuff/left@AA']);
  });

  it('calls it a remix where not all of its parts came along alike', () => {
    const parts = [of('cuff/left@A', 'copy', 'shell'), of('cuff/left@A', 'rescale', 'leaf')];
    expect(joinRelatives(parts, 2)[0].relation).toBe('remix');
    expect(joinRelatives(parts.slice(0, 1), 2)[0].relation).toBe('remix');
    expect(joinRelatives(parts.slice(0, 1), 1)[0].relation).toBe('copy');
  });
});

describe('undeclaredRounds', () => {
  const row = (count: number, r: number): { x: number; y: number; r: number; sides: number }[] =>
    Array.from({ length: count }, (_, k) => ({ x: 6 + 8 * k, y: 10, r, sides: 48 }));

  it('gives each of a few its place, and many alike a count', () => {
    const few = undeclaredRounds([], facts(plateWithHoles(60, 20, 5, row(2, 1.5))));
    // 3 mm drawn with 48 sides is 3 · cos(π/48) = 2.994 mm across its flats.
    expect(few.map(({ id, nominal_mm }) => [id, nominal_mm])).toEqual([
      ['bore-1', 3],
      ['bore-2', 3],
    ]);
    expect(few.map(({ at_mm }) => at_mm?.[0]).sort()).toEqual([14, 6]);
    const many = undeclaredRounds([], facts(plateWithHoles(60, 20, 5, row(6, 1.5))));
    expect(many).toEqual([{ id: 'bore-1', kind: 'bore', nominal_mm: 3, count: 6 }]);
  });

  it('leaves out what is declared, and takes no id twice', () => {
    const mesh = facts(plateWithHoles(60, 20, 5, row(2, 1.5)));
    const declared = [
      { id: 'bore-1', kind: 'bore', nominal_mm: 3, at_mm: [6, 10, 0] as [number, number, number] },
    ] as const;
    expect(undeclaredRounds(declared, mesh)).toMatchObject([{ id: 'bore-2', at_mm: [14, 10, 2.5] }]);
    expect(undeclaredRounds([{ id: 'holes', kind: 'bore', nominal_mm: 3, count: 2 }], mesh)).toEqual([]);
  });
});
