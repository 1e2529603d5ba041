import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { PartComparison, PartVerdict } from '@kinprint/compare';
import type { SourceFile, SourceState } from '../source/types.ts';
import { foldStates } from './letters.ts';
import { partLines } from './part-lines.ts';

/** States of one mesh each, by its path; what a step says of it. */
const state = (...paths: string[]): SourceState => ({
  commit: null,
  files: paths.map((path): SourceFile => ({
    path,
    kind: path.endsWith('.stl') ? 'mesh' : 'license',
    size: 1,
    digest: `x:${path}`,
    problem: null,
    place: null,
    open: () => Promise.reject(new Error('not read')),
  })),
});

const step = (
  before: string | null,
  after: string | null,
  verdict: PartVerdict,
  pairing: PartComparison['pairing'] = 'path',
): PartComparison => ({
  before,
  after,
  pairing,
  verdict,
  bodies: { before: null, after: null },
  comparison: null,
  problem: null,
});

const always = () => true;

describe('states as letters', () => {
  test('same shapes are folded, renamed ones too; copies and changes are not', () => {
    const states = [state('a.stl'), state('a.stl'), state('b.stl'), state('b.stl'), state('b.stl', 'c.stl')];
    const steps = [
      [step('a.stl', 'a.stl', 'same-shape')],
      [step('a.stl', 'b.stl', 'identical', 'content')],
      [step('b.stl', 'b.stl', 'moved')],
      [step('b.stl', 'b.stl', 'identical'), step('b.stl', 'c.stl', 'identical', 'copy')],
    ];
    expect(foldStates(states, steps, always).runs).toEqual([
      { first: 0, last: 2 },
      { first: 3, last: 3 },
      { first: 4, last: 4 },
    ]);
    // The copy is of another variant: here nothing happened.
    expect(foldStates(states, steps, file => file.path !== 'c.stl').runs.at(-1)).toEqual({
      first: 3,
      last: 4,
    });
  });

  test('a changed license is a letter, and states without a mesh are none', () => {
    const states = [
      state('LICENSE'),
      state('a.stl'),
      state('a.stl', 'LICENSE'),
      state('LICENSE'),
      state('a.stl', 'LICENSE'),
    ];
    const steps = [
      [step(null, 'a.stl', 'added', 'added')],
      [step('a.stl', 'a.stl', 'identical')],
      [step('a.stl', null, 'removed', 'removed')],
      [step(null, 'a.stl', 'added', 'added')],
    ];
    expect(foldStates(states, steps, always).runs.map(run => run.first)).toEqual([1, 2, 4]);
  });

  test('too many letters: the oldest are taken together, none is lost', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 40 }), fc.integer({ min: 1, max: 12 }), (count, most) => {
        const states = Array.from({ length: count }, () => state('a.stl'));
        const steps = Array.from({ length: count - 1 }, () => [step('a.stl', 'a.stl', 'reworked')]);
        const { runs, joined } = foldStates(states, steps, always, most);
        expect(runs).toHaveLength(Math.min(count, most));
        expect(joined).toBe(Math.max(0, count - most));
        expect(runs[0].first).toBe(0);
        expect(runs.at(-1)?.last).toBe(count - 1);
        for (let i = 1; i < runs.length; i++) expect(runs[i].first).toBe(runs[i - 1].last + 1);
      }),
    );
  });
});

describe('parts through the history', () => {
  test('followed under other names; what a plate gathers ends, what is gone comes last', () => {
    const states = [state('a.stl', 'b.stl'), state('c.stl', 'b.stl'), state('c.stl', 'plate.stl')];
    const steps = [
      [step('a.stl', 'c.stl', 'reworked', 'shape'), step('b.stl', 'b.stl', 'identical')],
      [step('c.stl', 'c.stl', 'identical'), step('b.stl', 'plate.stl', 'moved', 'gathered')],
    ];
    expect(
      partLines(states, steps).map(line => line.versions.map(({ state: at, file }) => `${at} ${file.path}`)),
    ).toEqual([['0 a.stl', '1 c.stl', '2 c.stl'], ['2 plate.stl'], ['0 b.stl', '1 b.stl']]);
  });
});
