import { describe, expect, it } from 'vitest';
import { audit, type AuditOptions } from './audit.ts';
import type { AuditFinding } from './findings.ts';
import { chain, descent, work } from './testing.ts';
import type { Works } from './works.ts';

const first = (works: Works, options: AuditOptions = {}): readonly AuditFinding[] =>
  audit(works, { targets: [works.works[0].id], ...options }).works[0].findings;
const codes = (works: Works, options: AuditOptions = {}): string[] =>
  first(works, options).map(f => `${f.severity} ${f.code}`);
const sa = 'CC-BY-SA-4.0';

describe('far up the lineage', () => {
  it('an author five generations up must be named, and the path says why', () => {
    const line = ['f', 'e', 'd', 'c', 'b'].map(id => work(id, sa, ['Ben']));
    const [finding, ...rest] = first(chain([...line, work('a', sa, ['Ada', 'Ben'])]));
    expect(rest).toEqual([]);
    expect(finding).toMatchObject({
      code: 'credit-missing',
      severity: 'error',
      basis: { clause: 'CC-BY-4.0 3(a)(1)(A)(i)'.replace('BY', 'BY-SA') },
    });
    expect(finding.path.map(step => step.to)).toEqual(['e', 'd', 'c', 'b', 'a']);
    expect(finding.text).toContain('Ada');
  });

  it('a noncommercial layer stays, although the work between dropped it', () => {
    const works = chain([
      work('c', 'CC-BY-4.0', ['A']),
      work('b', 'CC-BY-4.0', ['A']),
      work('a', 'CC-BY-NC-4.0', ['A']),
    ]);
    const [finding] = first(works);
    expect(finding).toMatchObject({
      code: 'two-licenses',
      severity: 'warning',
      path: [{ to: 'b' }, { to: 'a' }],
    });
    expect(audit(works, { targets: ['c'], use: 'sale' }).works[0].use).toMatchObject({
      answer: 'not-permitted',
      reasons: [{ work: 'a' }],
    });
    expect(audit(works, { targets: ['c'], use: 'personal' }).works[0].use).toMatchObject({
      answer: 'permitted',
      duties: [],
    });
  });

  it('a share-alike license that allows a later one gives way to it (BY-SA 3.0 to 4.0 to GPL 3)', () => {
    const names = ['A'];
    const line = [work('c', 'GPL-3.0-only', names), work('b', sa, names), work('a', 'CC-BY-SA-3.0', names)];
    expect(codes(chain(line))).toEqual([]);
    // Without the step between it is not allowed.
    expect(codes(chain([line[0], line[2]]))).toEqual(['error share-alike']);
  });

  it('says a fault once, and of whom else it holds', () => {
    const line = [work('d', 'MIT', ['A']), work('c', sa, ['A']), work('b', sa, ['A']), work('a', sa, ['A'])];
    expect(first(chain(line))).toMatchObject([
      { code: 'share-alike', path: [{ to: 'c' }], also: ['b', 'a'] },
    ]);
  });

  it('works that cannot be blended are found wherever they meet', () => {
    const names = ['A'];
    const works: Works = {
      works: [
        work('e', sa, names),
        work('d', sa, names),
        work('c', sa, names),
        work('b', 'CC-BY-4.0', names),
        work('a', 'CC-BY-NC-4.0', names),
      ],
      descents: [
        descent('e', 'd', 'remix'),
        descent('d', 'c', 'combination'),
        descent('d', 'b', 'combination'),
        descent('b', 'a', 'remix'),
      ],
    };
    expect(first(works).find(f => f.code === 'cannot-combine')).toMatchObject({
      path: [{ to: 'd' }],
      also: ['c', 'a'],
    });
    // What came from each other does not meet: BY-NC into BY-SA is a warning cell of the adapter's chart.
    expect(codes(chain([work('b', sa, names), work('a', 'CC-BY-NC-4.0', names)]))).toEqual([
      'warning two-licenses',
    ]);
  });

  it('letters of one variant are not judged against each other, but lead on', () => {
    const works: Works = {
      works: [work('v@B', 'CC-BY-4.0', ['A']), work('v@A', sa, ['A']), work('u', sa, ['A'])],
      descents: [descent('v@B', 'v@A', 'revision', { changes: null }), descent('v@A', 'u', 'remix')],
    };
    expect(first(works)).toMatchObject([
      { code: 'share-alike', path: [{ relation: 'revision' }, { relation: 'remix', to: 'u' }] },
    ]);
  });

  it('says when an ancestor is not at hand', () => {
    expect(codes(chain([work('b', sa, ['A']), work('a', null, [], { known: false })]))).toEqual([
      'ask ancestor-unknown',
    ]);
  });
});

describe('what a relation is', () => {
  const nd = (relation: 'mirror' | 'rescale' | 'remix' | 'copy', more = {}): Works => ({
    works: [work('b', 'CC-BY-ND-4.0', ['A']), work('a', 'CC-BY-ND-4.0', ['A'])],
    descents: [descent('b', 'a', relation, more)],
  });

  it('a plain mirror or rescale of a no-derivatives work asks a person, unless policy settles it', () => {
    for (const [relation, key] of [
      ['mirror', 'mirrorIsAdaptation'],
      ['rescale', 'rescaleIsAdaptation'],
    ] as const) {
      expect(codes(nd(relation))).toEqual(['ask ask-a-person']);
      expect(codes(nd(relation), { policy: { [key]: true } })).toEqual(['error no-derivatives']);
      expect(codes(nd(relation), { policy: { [key]: false } })).toEqual([]);
    }
  });

  it('restored bores are a change, an unchanged remix is a copy, and a changed copy is none', () => {
    expect(codes(nd('rescale', { shape: 'changed' }))).toEqual(['error no-derivatives']);
    expect(codes(nd('remix', { shape: 'unchanged' }))).toEqual(['note unchanged-copy']);
    expect(codes(nd('copy', { shape: 'changed' })).sort()).toEqual([
      'error copy-was-changed',
      'error no-derivatives',
    ]);
    expect(codes(nd('remix', { shape: 'rescaled' }))).toEqual(['ask ask-a-person']);
  });

  it('where both readings agree nobody is asked', () => {
    const mirror = (from: string, to: string): string[] =>
      codes(chain([work('b', to, ['A']), work('a', from, ['A'])], 'mirror'));
    expect(mirror(sa, sa)).toEqual([]);
    expect(mirror(sa, 'MIT')).toEqual(['error share-alike']);
    expect(mirror('CC-BY-4.0', sa)).toEqual(['ask ask-a-person']);
  });

  it('a copy with letters after it may no longer be one', () => {
    const works: Works = {
      works: [
        work('b@B', 'CC-BY-ND-4.0', ['A']),
        work('b@A', 'CC-BY-ND-4.0', ['A']),
        work('a', 'CC-BY-ND-4.0', ['A']),
      ],
      descents: [descent('b@B', 'b@A', 'revision'), descent('b@A', 'a', 'copy')],
    };
    expect(codes(works)).toEqual(['ask ask-a-person']);
  });
});

describe('what the manifest leaves out', () => {
  it('changes are to be told where the license asks, and only there', () => {
    const silent = (license: string): Works => ({
      works: [work('b', license, ['A']), work('a', license, ['A'])],
      descents: [descent('b', 'a', 'remix', { changes: ' ' })],
    });
    expect(codes(silent(sa))).toEqual(['error change-not-indicated']);
    expect(codes(silent('MIT'))).toEqual([]);
  });

  it('of two derivations from the same work each is looked at', () => {
    const works: Works = {
      works: [work('b', sa, ['A']), work('a', sa, ['A'])],
      descents: [descent('b', 'a', 'remix'), descent('b', 'a', 'remix', { changes: null })],
    };
    expect(codes(works)).toEqual(['error change-not-indicated']);
  });

  it('notices come along', () => {
    const works = chain([
      work('b', 'Apache-2.0', ['A']),
      work('a', 'Apache-2.0', ['A'], { notices: ['NOTICE'] }),
    ]);
    expect(codes(works)).toEqual(['warning notice-dropped']);
    expect(codes({ ...works, works: works.works.map(w => ({ ...w, notices: ['NOTICE'] })) })).toEqual([]);
  });

  it('a part of somebody else keeps its author where it is kept', () => {
    const pad = { id: 'pad', license: 'CC-BY-4.0', authors: [{ name: 'Sanna' }] };
    const older = work('a', sa, ['A'], { parts: [pad] });
    expect(
      codes(chain([work('b', sa, ['A'], { parts: [{ id: 'pad', license: null, authors: null }] }), older])),
    ).toEqual(['error credit-missing']);
    expect(codes(chain([work('b', sa, ['A']), older]))).toEqual([]);
  });

  it('names are the same in any letter case and width', () => {
    expect(codes(chain([work('b', sa, ['ada  LOVELY']), work('a', sa, ['Ada Lovely'])]))).toEqual([]);
  });

  it('wrong, missing and old license expressions', () => {
    expect(codes({ works: [work('a', null, [])], descents: [] })).toEqual(['error license-none']);
    expect(codes({ works: [work('a', 'CC-BY-SA', [])], descents: [] })).toEqual(['error license-wrong']);
    expect(first({ works: [work('a', 'GPL-3.0', [])], descents: [] })).toMatchObject([
      { code: 'license-out-of-use', remedy: 'Write GPL-3.0-only or GPL-3.0-or-later.' },
    ]);
  });
});

describe('choices and policies', () => {
  it('a choice is made and told', () => {
    const works = chain([
      work('b', 'GPL-3.0-only', ['A']),
      work('a', 'CERN-OHL-S-2.0 OR GPL-3.0-only', ['A']),
    ]);
    expect(first(works)).toMatchObject([
      {
        code: 'branch-chosen',
        severity: 'note',
        text: expect.stringContaining('rests on GPL-3.0-only') as string,
      },
    ]);
  });

  it('forbidden licenses are found anywhere in the lineage, unless there is a choice', () => {
    const line = (license: string): Works =>
      chain([work('b', 'CC-BY-NC-4.0', ['A']), work('a', license, ['A'])]);
    const policy = { forbid: ['CC-BY-4.0'] };
    expect(codes(line('CC-BY-4.0'), { policy })).toEqual(['error license-forbidden']);
    expect(codes(line('CC-BY-4.0 OR CC-BY-3.0'), { policy })).toEqual(['note branch-chosen']);
  });
});

describe('shapes', () => {
  const fact = {
    work: 'pen@A',
    part: 'shell',
    other: { work: 'cuff@B', part: 'shell' },
    kinship: 'rescaled',
    scale: 1.12,
  } as const;
  const cuff = work('cuff@B', sa, ['Ada'], { date: '2024-02-17' });
  const pen = (license: string, names: string[], date = '2025-05-12') =>
    work('pen@A', license, names, { date });

  it('a part declared original that is kin to one of somebody else is told, with what would follow', () => {
    const [finding, ...rest] = first(
      { works: [pen('CC-BY-4.0', ['Wim']), cuff], descents: [] },
      { facts: [fact] },
    );
    expect(rest).toEqual([]);
    expect(finding).toMatchObject({
      code: 'undeclared-relative',
      severity: 'error',
      part: 'shell',
      also: [],
    });
    expect(finding.text).toContain('the same shape after scaling by 1.12');
    expect(finding.text).toContain('Ada');
  });

  it('is not told of a variant whose first letter is older, nor as an error where only places are alike', () => {
    const works: Works = {
      works: [
        pen('CC-BY-4.0', ['Wim']),
        work('pen@first', 'CC-BY-4.0', ['Wim'], { date: '2020-01-01' }),
        cuff,
      ],
      descents: [descent('pen@A', 'pen@first', 'revision')],
    };
    expect(codes(works, { facts: [fact] })).toEqual([]);
    const alone: Works = { works: [pen('CC-BY-4.0', ['Wim']), cuff], descents: [] };
    expect(codes(alone, { facts: [{ ...fact, kinship: 'reworked', scale: null }] })).toEqual([
      'ask undeclared-relative',
    ]);
  });

  it('is only a warning where nothing is broken, and nothing once declared or for the older one', () => {
    expect(codes({ works: [pen(sa, ['Ada', 'Wim']), cuff], descents: [] }, { facts: [fact] })).toEqual([
      'warning undeclared-relative',
    ]);
    expect(
      codes(
        { works: [pen(sa, ['Ada']), cuff], descents: [descent('pen@A', 'cuff@B', 'rescale')] },
        { facts: [fact] },
      ),
    ).toEqual([]);
    expect(codes({ works: [pen(sa, ['Wim'], '2020-01-01'), cuff], descents: [] }, { facts: [fact] })).toEqual(
      [],
    );
  });
});
