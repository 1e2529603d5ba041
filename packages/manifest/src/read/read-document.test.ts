import { describe, expect, it } from 'vitest';
import { readDocument } from './read-document.ts';
import type { Problem } from '../problem.ts';

const head = 'kinprint: variant/1\ntitle: T\n';
const problems = (text: string): readonly Problem[] => readDocument('variant', text, 'v.yaml').problems;
const brief = (text: string): string[] =>
  problems(text).map(p => `${p.line}:${p.column} ${p.code} ${p.text}`);

describe('reading a document', () => {
  it('gives the value of a good one, and places within it', () => {
    const text = `# a cuff\n${head}parts:\n  - id: shell\n    mesh: parts/shell.stl\n`;
    const read = readDocument('variant', text, 'v.yaml');
    expect(read.problems).toEqual([]);
    expect(read.value?.parts).toEqual([{ id: 'shell', mesh: 'parts/shell.stl' }]);
    expect(read.place(['parts', 0, 'mesh'])).toEqual({
      line: 6,
      column: 11,
      source: '    mesh: parts/shell.stl',
    });
    expect(read.place(['parts'])).toMatchObject({ line: 4, column: 1 });
    expect(read.place(['parts', 0])).toMatchObject({ line: 5, column: 5 });
    // What is not there: the nearest that is.
    expect(read.place(['parts', 0, 'print', 'walls'])).toMatchObject({ line: 5, column: 5 });
    expect(read.place(['parts', 7])).toMatchObject({ line: 4, column: 1 });
    expect(read.place([])).toMatchObject({ line: 2, column: 1 });
  });

  it('tells several problems at once, in the order of the text, each with its line and a hint', () => {
    const text = `${head}licence: MIT
parts:
  - id: shell
    messh: parts/shell.stl
    print: { supports: everywere, walls: two }
authors:
  - { name: Ann, roles: [validaton, designer, Writing – original draft] }
`;
    expect(brief(text)).toEqual([
      "3:1 unknown-key Unknown key 'licence'. Did you mean 'license'?",
      "6:5 unknown-key Unknown key 'messh' in entry 1 of 'parts'. Did you mean 'mesh'?",
      "7:24 unknown-value 'supports' cannot be 'everywere'. Did you mean 'everywhere'?",
      "7:42 wrong-type 'walls' must be a whole number; it is 'two'.",
      "9:26 unknown-value Entry 1 of 'roles': 'validaton' is no contributor role. Did you mean 'validation'?",
      "9:37 unknown-value Entry 2 of 'roles': 'designer' is no contributor role. Did you mean 'conceptualization'?",
      "9:47 unknown-value Entry 3 of 'roles': 'Writing – original draft' is no contributor role. Did you mean 'writing-original-draft'?",
    ]);
    expect(problems(text)[1]).toMatchObject({
      severity: 'error',
      file: 'v.yaml',
      at: '/parts/0/messh',
      source: '    messh: parts/shell.stl',
    });
    expect(readDocument('variant', text, 'v.yaml').value).toBeNull();
  });

  it('names missing keys, empty values, and values of the wrong type or form', () => {
    const text = `kinprint: variant/1
title: 12
parts:
  - mesh: ../x.stl
fit:
revisions:
  - { letter: I, digest: sha256:00, date: 2026-02-30 }
`;
    expect(brief(text)).toEqual([
      "2:8 wrong-type 'title' must be text; it is the number 12.",
      "4:5 missing-key The key 'id' is missing in entry 1 of 'parts'.",
      "4:11 malformed-value '../x.stl' does not have the form that 'mesh' needs.",
      "5:1 wrong-type 'fit' has no value; it must be a group of keys.",
      "7:15 malformed-value 'I' does not have the form that 'letter' needs.",
      "7:26 malformed-value 'sha256:00' does not have the form that 'digest' needs.",
      "7:43 malformed-value '2026-02-30' is no date of the calendar.",
    ]);
    expect(problems(text)[0]?.remedy).toBe("Put it in quotes: '12'.");
  });

  it('names the keys of a group that is not one', () => {
    const remedy = (lines: string) =>
      problems(`kinprint: variant/1\ntitle: T\nparts: []\n${lines}\n`)[0]?.remedy;
    const remedyOfPart = (key: string) =>
      problems(`kinprint: variant/1\ntitle: T\nparts:\n  - { id: a, mesh: a.stl, ${key} }\n`)[0]?.remedy;
    expect(remedy('authors: [Robin]')).toBe(
      "Write 'key: value' for name. Optional: roles, contact, url, since.",
    );
    expect(remedy('hardware: [{ id: a, title: A, quantity: 1, unit_cost: 1 EUR }]')).toBe(
      "Write 'key: value' for value, currency.",
    );
    expect(remedyOfPart('print: fine')).toMatch(/the keys are layer_height_mm, walls, /);
    expect(remedyOfPart('quantity: two')).toBe('Write the number alone, in digits, without a unit.');
  });

  it('speaks of nothing that only those know who wrote the validator', () => {
    const text = `kinprint: advisory/1\nid: Ä\ntitle: ''\npublished: x\nseverity: 3\nsummary: [a]\naction: 'x'\naffects: [{ variant: a, letters: [A, A], from: B, parts: [] }]\nlinks: {}\n`;
    const all = readDocument('advisory', text, 'a.yaml').problems;
    expect(all.length).toBeGreaterThan(7);
    for (const { text: words, remedy } of all) {
      expect(`${words} ${remedy}`).not.toMatch(
        /schema path|instancePath|additionalProperties|must NOT|propert|regex|pattern|undefined|\[object/i,
      );
      expect(remedy).not.toBe('');
    }
    expect(all.map(p => p.text)).toContain("'from' cannot stand beside 'letters'.");
  });

  it('tells one thing when a document is of another kind, newer, or empty', () => {
    expect(brief('kinprint: device/1\ntitle: T\npurpose: P\n')).toEqual([
      '1:11 document-kind This is a device; a variant is expected here.',
    ]);
    expect(brief('kinprint: variant/2\nnews: 1\n')).toEqual([
      '1:11 document-version The document is written in version 2; version 1 is understood here.',
    ]);
    expect(brief('title: T\n')[0]).toContain("1:1 document-kind The key 'kinprint' is missing");
    for (const text of ['', '\n\n', '# nothing\n', '---\n'])
      expect(problems(text).map(p => p.code)).toEqual(['document-empty']);
    for (const text of ['word', '[1, 2]', '12', '- a'])
      expect(problems(text).map(p => p.code)).toEqual(['wrong-type']);
  });

  it('reads the same from Windows line ends and after a byte-order mark, places too', () => {
    const text = `${head}summary: |\n  one\n  two\nparts: []\nlicence: x\n`;
    const plain = readDocument('variant', text.replace('licence: x\n', ''), 'v.yaml').value;
    expect(plain?.summary).toBe('one\ntwo\n');
    const windows = `\uFEFF${text.replaceAll('\n', '\r\n')}`;
    expect(readDocument('variant', windows.replace('licence: x\r\n', ''), 'v.yaml').value).toEqual(plain);
    expect(problems(windows)).toEqual(problems(text));
    expect(problems(`\uFEFFkinprint: x\n`)[0]).toMatchObject({ line: 1, column: 11, source: 'kinprint: x' });
  });

  it('takes values as YAML 1.2 has them: no is text, dates are text, keys are text', () => {
    const text = 'kinprint: device/1\ntitle: no\npurpose: 2026-03-14\n';
    expect(readDocument('device', text, 'd.yaml').value).toEqual({
      kinprint: 'device/1',
      title: 'no',
      purpose: '2026-03-14',
    });
    const sources = 'kinprint: registry/1\nname: R\nsources:\n  1: { git: x }\n';
    expect(readDocument('registry', sources, 'r.yaml').value?.sources).toEqual({ '1': { git: 'x' } });
  });
});

describe('YAML that is refused', () => {
  const refused: readonly (readonly [name: string, text: string, code: string, line: number])[] = [
    ['a tab as indentation', `${head}parts:\n\t- id: a\n`, 'yaml-tab', 4],
    ['a key twice', `${head}parts: []\ntitle: U\n`, 'duplicate-key', 4],
    ['a second document', `${head}parts: []\n---\na: 1\n`, 'yaml-several-documents', 4],
    ['a tag', `${head}parts: !mine []\n`, 'yaml-tag', 3],
    ['a tag of code', `${head}parts: !!js/function 'x'\n`, 'yaml-tag', 3],
    ['another version of YAML', `%YAML 1.1\n---\n${head}parts: []\n`, 'yaml-directive', 1],
    ['a tag directive', `%TAG !e! tag:example.org,2026:\n---\n${head}parts: []\n`, 'yaml-directive', 1],
    ['an alias of nothing', `${head}parts: *x\n`, 'yaml-alias', 3],
    ['an alias within itself', `${head}parts: &x [*x]\n`, 'yaml-alias', 3],
    ['a group as key', `${head}parts: []\n? [a]\n: b\n`, 'yaml-key', 4],
    ['a merge key', `${head}parts: []\n<<: { license: MIT }\n`, 'unknown-key', 4],
    ['an open quote', `${head}parts: []\nsummary: "abc\n`, 'yaml-syntax', 4],
    ['an open bracket', `${head}parts: [\n`, 'yaml-syntax', 3],
    ['a colon in plain text', `${head}summary: spoon: with handle\n`, 'yaml-syntax', 3],
    ['a control character', `${head}parts: []\nsummary: a\u0007b\n`, 'control-character', 4],
    ['an escape of half a character', `${head}parts: []\nsummary: "\\ud800"\n`, 'control-character', 4],
    ['too many levels', `${head}parts: ${'['.repeat(100)}${']'.repeat(100)}\n`, 'document-too-deep', 3],
    ['very many levels', `${head}parts: ${'['.repeat(20_000)}`, 'document-too-deep', 3],
  ];
  it.each(refused)('%s', (_name, text, code, line) => {
    const read = readDocument('variant', text, 'v.yaml');
    expect(read.value).toBeNull();
    expect(read.problems.map(p => `${p.line} ${p.code}`)).toContain(`${line} ${code}`);
  });

  it('both sides of a merge: told once for each, and nothing that follows from it', () => {
    for (const end of ['\n', '\r\n']) {
      const sides = (ours: string, theirs: string) => `<<<<<<< HEAD\n${ours}=======\n${theirs}>>>>>>> wide\n`;
      const text = `kinprint: variant/1\n${sides('title: A\n', 'title: B\n')}parts: []\n${sides('', 'summary: C\n')}`;
      expect(problems(text.replaceAll('\n', end)).map(p => `${p.line} ${p.code}`)).toEqual([
        '2 merge-conflict',
        '8 merge-conflict',
      ]);
    }
    const prose = `${head}parts: []\nsummary: |\n  <<<<<<< a\n  >>>>>>> b\n`;
    expect(problems(prose)).toEqual([]);
  });

  it('but an alias that repeats settings a few times is fine', () => {
    const text = `${head}parts:\n  - { id: a, mesh: a.stl, print: &pla { walls: 3 } }\n  - { id: b, mesh: b.stl, print: *pla }\n`;
    expect(readDocument('variant', text, 'v.yaml').value?.parts[1]?.print).toEqual({ walls: 3 });
  });
});
