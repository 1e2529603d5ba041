import ids from 'spdx-license-ids/index.json' with { type: 'json' };
import { describe, expect, it } from 'vitest';
import {
  findLicense,
  judgeAdaptation,
  licenses,
  moveOf,
  moves,
  parseExpression,
  reserved,
  versionRules,
  type Answer,
  type Expression,
} from '@kinprint/license';
import { licenseReference } from './reference.ts';

const { pairs } = licenseReference<{
  pairs: { from: string; to: string; verdict: string; source: string }[];
}>('license-pairs.json');
const read = (text: string): Expression => {
  const parsed = parseExpression(text);
  if (!parsed.ok) throw new Error(text);
  return parsed.expression;
};
const answer = (from: string, to: string): Answer => judgeAdaptation(read(from), read(to)).answer;

const words: Record<string, Answer> = {
  permitted: 'permitted',
  permitted_with_duties: 'permitted',
  not_recommended: 'not-recommended',
  not_permitted: 'not-permitted',
  needs_human: 'ask',
};
const gpl = [
  'GPL-2.0-only',
  'GPL-2.0-or-later',
  'GPL-3.0-only',
  'GPL-3.0-or-later',
  'AGPL-3.0-only',
  'LGPL-3.0-only',
];
const groups: Record<string, string[]> = {
  any: [
    'MIT',
    'CC-BY-4.0',
    'CC-BY-SA-4.0',
    'CC-BY-NC-4.0',
    'GPL-3.0-only',
    'CERN-OHL-S-2.0',
    'LicenseRef-AllRightsReserved',
  ],
  'any GPL': gpl,
  'any GPL or CERN-OHL-S/W': [...gpl, 'CERN-OHL-S-2.0', 'CERN-OHL-W-2.0'],
  'MIT, BSD, Apache-2.0, CERN-OHL-P-2.0': [
    'MIT',
    'BSD-2-Clause',
    'BSD-3-Clause',
    'Apache-2.0',
    'CERN-OHL-P-2.0',
  ],
  'any non-CC licence': [
    'MIT',
    'Apache-2.0',
    'GPL-3.0-only',
    'CERN-OHL-S-2.0',
    'CERN-OHL-P-2.0',
    'TAPR-OHL-1.0',
    'LAL-1.3',
    'SHL-0.51',
  ],
};
const cells = pairs.flatMap(({ from, to, verdict }) =>
  from.split(', ').flatMap(a => (groups[to] ?? [to]).map(b => [a, b, verdict] as const)),
);

describe('adaptations across license families, against the clauses collected', () => {
  it.each(cells)('%s to %s: %s', (from, to, verdict) => expect(answer(from, to)).toBe(words[verdict]));
});

describe('versions', () => {
  it.each([
    // Sources: CC-BY-SA-1.0 to 4.0, the clauses in `versionRules`; GPL-2.0 section 9.
    ['CC-BY-SA-1.0', 'CC-BY-SA-1.0', 'permitted'],
    ['CC-BY-SA-1.0', 'CC-BY-SA-2.0', 'not-permitted'],
    ['CC-BY-SA-2.0', 'CC-BY-SA-2.5', 'permitted'],
    ['CC-BY-SA-3.0', 'CC-BY-SA-4.0', 'permitted'],
    ['CC-BY-SA-3.0', 'CC-BY-SA-3.0-DE', 'permitted'],
    ['CC-BY-SA-4.0', 'CC-BY-SA-3.0-DE', 'not-permitted'],
    ['CC-BY-NC-SA-3.0', 'CC-BY-NC-SA-4.0', 'permitted'],
    ['CC-BY-NC-SA-4.0', 'CC-BY-NC-SA-3.0', 'not-permitted'],
    ['CC-BY-SA-3.0+', 'CC-BY-SA-4.0', 'permitted'],
    ['CC-BY-SA-4.0', 'CC-BY-SA-4.0+', 'permitted'],
    ['CC-BY-SA-1.0', 'CC-BY-SA-1.0+', 'not-permitted'],
    ['CC-BY-SA-3.0', 'LAL-1.3', 'not-permitted'],
    ['CC-BY-SA-4.0', 'LAL-1.3', 'permitted'],
    ['GPL-2.0-only', 'GPL-3.0-only', 'not-permitted'],
    ['GPL-2.0-or-later', 'GPL-3.0-only', 'permitted'],
    ['GPL-2.0-or-later', 'GPL-2.0-or-later', 'permitted'],
    ['GPL-3.0-only', 'GPL-2.0-or-later', 'not-permitted'],
    ['GPL-3.0-only', 'GPL-3.0-or-later', 'ask'],
    ['LGPL-2.1-only', 'GPL-3.0-only', 'permitted'],
    ['MIT', 'GPL-3.0-or-later', 'permitted'],
    ['Apache-2.0', 'GPL-2.0-only', 'not-permitted'],
    ['Apache-2.0', 'GPL-3.0-only', 'permitted'],
    ['Apache-2.0 WITH SHL-2.1', 'GPL-2.0-only', 'not-permitted'],
    ['GPL-2.0-only WITH Classpath-exception-2.0', 'MIT', 'ask'],
  ] as const)('%s to %s: %s', (from, to, expected) => expect(answer(from, to)).toBe(expected));
});

describe('the table of rules', () => {
  it('names licenses of the SPDX list, each once, with every row grounded', () => {
    const known = new Set<string>(ids);
    expect(licenses.map(l => l.id).filter(id => !known.has(id))).toEqual([]);
    expect(new Set(licenses.map(l => l.id)).size).toBe(licenses.length);
    expect(licenses.length).toBeGreaterThanOrEqual(75);
    for (const { id, adapt, commercial, collect, duties } of licenses)
      for (const row of [adapt, commercial, collect, ...duties])
        expect(
          [row.clause, row.source].every(text => text.length > 3),
          `${id}: ${row.clause}`,
        ).toBe(true);
    for (const row of [...moves, ...versionRules]) expect(row.clause.length, row.clause).toBeGreaterThan(3);
  });

  it('has all Creative Commons licenses that the SPDX list has', () => {
    const mine = new Set(licenses.map(l => l.id));
    const listed = ids.filter(id => /^CC-BY/.test(id) || id === 'CC0-1.0' || id === 'CC-PDM-1.0');
    expect(listed.filter(id => !mine.has(id))).toEqual([]);
  });

  it('lets every license but the no-derivatives ones be kept by a changed version', () => {
    for (const { id, adapt } of licenses)
      expect(answer(id, id), id).toBe(
        adapt.may !== 'share' ? 'not-permitted' : id === 'CC-PDM-1.0' ? 'not-recommended' : 'permitted',
      );
  });

  it('has a row for every pair, and none that earlier ones hide', () => {
    const all = [...licenses, reserved, findLicense('LicenseRef-own')];
    // Pairs within Creative Commons stand in its charts.
    const hit = new Set(all.flatMap(from => all.map(to => moveOf(from, to))));
    expect(
      moves.filter(move => !hit.has(move)).map(move => `${move.from.join()} > ${move.to.join()}`),
    ).toEqual([]);
  });
});
