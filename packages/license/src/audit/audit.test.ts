import { describe, expect, it } from 'vitest';
import { audit, type AuditOptions } from './audit.ts';
import type { AuditFinding } from './findings.ts';
import { chain, descent, work } from './testing.ts';
import type { Relation, Shape, Works } from './works.ts';

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

  it('a letter that says by itself what it came from is not judged by what its earlier ones did', () => {
    const nd = 'CC-BY-ND-4.0';
    const works: Works = {
      works: [work('v@B', nd, ['A']), work('v@A', nd, ['A']), work('u', nd, ['A'])],
      descents: [
        descent('v@B', 'v@A', 'revision', { restated: true }),
        descent('v@B', 'u', 'copy', { shape: 'unchanged' }),
        descent('v@A', 'u', 'copy', { shape: 'changed' }),
      ],
    };
    expect(codes(works)).toEqual([]);
    expect(
      codes({ ...works, descents: [descent('v@B', 'v@A', 'revision'), ...works.descents.slice(1)] }),
    ).toContain('error no-derivatives');
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
    const free = { policy: { rescaleIsAdaptation: false } };
    expect(codes(nd('rescale', { shape: 'restored' }), free)).toEqual(['error no-derivatives']);
    expect(first(nd('rescale', { shape: 'restored' }))[0].text).toContain('brought back to size');
    expect(codes(nd('rescale', { shape: 'rescaled' }), free)).toEqual([]);
    expect(codes(nd('remix', { shape: 'unchanged' }))).toEqual(['note unchanged-copy']);
    expect(codes(nd('copy', { shape: 'changed' })).sort()).toEqual([
      'error more-than-declared',
      'error no-derivatives',
    ]);
    expect(codes(nd('remix', { shape: 'rescaled' }))).toEqual(['ask ask-a-person']);
  });

  it('a copy, mirror image or rescaling that was in truth reworked is told', () => {
    const told = (relation: 'mirror' | 'rescale' | 'remix' | 'copy', shape: string): boolean =>
      codes(nd(relation, { shape })).includes('error more-than-declared');
    expect(['mirrored', 'rescaled', 'restored', 'changed'].every(shape => told('copy', shape))).toBe(true);
    expect(told('copy', 'unchanged')).toBe(false);
    expect(['rescaled', 'restored', 'changed'].every(shape => told('mirror', shape))).toBe(true);
    expect(told('mirror', 'mirrored')).toBe(false);
    expect(['mirrored', 'changed'].every(shape => told('rescale', shape))).toBe(true);
    expect(['rescaled', 'restored'].some(shape => told('rescale', shape))).toBe(false);
    expect(['changed', 'restored', 'mirrored'].some(shape => told('remix', shape))).toBe(false);
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
    const between = (shape: 'unchanged' | 'changed'): Works => ({
      ...works,
      descents: [descent('b@B', 'b@A', 'revision', { shape }), descent('b@A', 'a', 'copy')],
    });
    expect(codes(between('unchanged'))).toEqual([]);
    expect(codes(between('changed'))).toEqual(['error no-derivatives']);
  });
});

describe('parts with a license of their own', () => {
  const nd = 'CC-BY-ND-4.0';
  const part = (id: string, license: string | null = null, names: string[] | null = null) => ({
    id,
    license,
    authors: names?.map(name => ({ name })) ?? null,
  });
  /** Both under CC-BY-SA-4.0, with a shell; the pad as given. */
  const cuffs = (
    pads: { newer: string | null; older: string | null },
    shapes: { pad: Shape; shell?: Shape },
    relation: Relation = 'remix',
  ): Works => ({
    works: [
      work('b', sa, ['Ada', 'Ben'], { parts: [part('shell'), part('pad', pads.newer)] }),
      work('a', sa, ['Ada'], { parts: [part('shell'), part('pad', pads.older)] }),
    ],
    descents: [
      descent('b', 'a', relation, {
        parts: [
          { part: 'shell', from: 'shell', shape: shapes.shell ?? 'changed' },
          { part: 'pad', from: 'pad', shape: shapes.pad },
        ],
      }),
    ],
  });
  const padCodes = (works: Works, options: AuditOptions = {}) =>
    first(works, options).map(f => `${f.part ?? 'whole'} ${f.severity} ${f.code}`);

  it('a no-derivatives part may lie unchanged in a changed variant, and may not be changed', () => {
    expect(padCodes(cuffs({ newer: nd, older: nd }, { pad: 'unchanged' }))).toEqual([]);
    expect(padCodes(cuffs({ newer: nd, older: nd }, { pad: 'changed' }))).toEqual([
      'pad error no-derivatives',
    ]);
    expect(
      padCodes(cuffs({ newer: nd, older: nd }, { pad: 'mirrored', shell: 'mirrored' }, 'mirror')),
    ).toEqual(['pad ask ask-a-person']);
  });

  it('is judged by the license of the part it came from, not by that of the variant', () => {
    // A CC0 pad may be put under anything; one that lost its license may not.
    expect(padCodes(cuffs({ newer: 'MIT', older: 'CC0-1.0' }, { pad: 'changed' }))).toEqual([]);
    expect(padCodes(cuffs({ newer: 'MIT', older: null }, { pad: 'changed' }))).toEqual([
      'pad error share-alike',
    ]);
    expect(padCodes(cuffs({ newer: null, older: nd }, { pad: 'unchanged' }))).toEqual([
      'pad error copy-relabeled',
    ]);
    expect(first(cuffs({ newer: null, older: nd }, { pad: 'unchanged' }))[0].path).toEqual([
      { relation: 'remix', to: 'a/pad' },
    ]);
  });

  it('a change of such a part alone is no change of what lies under the license of the whole', () => {
    const works = cuffs({ newer: 'MIT', older: 'MIT' }, { pad: 'changed', shell: 'unchanged' });
    const asNd = { ...works, works: works.works.map(w => ({ ...w, license: nd })) };
    expect(padCodes(asNd)).toEqual([]);
    expect(padCodes({ ...asNd, descents: [descent('b', 'a', 'remix')] })).toContain(
      'whole error no-derivatives',
    );
  });

  it('a combination that takes no-derivatives parts as they are is a collection of them', () => {
    const clip = (license: string | null, shape: Shape): Works => ({
      works: [
        work('c', sa, ['Ada', 'Ben'], { parts: [part('shell'), part('clip', license)] }),
        work('a', sa, ['Ada'], { parts: [part('shell')] }),
        work('b', nd, ['Ben'], { parts: [part('clip'), part('hook')] }),
      ],
      descents: [
        descent('c', 'a', 'combination', { parts: [{ part: 'shell', from: 'shell', shape: 'unchanged' }] }),
        descent('c', 'b', 'combination', { parts: [{ part: 'clip', from: 'clip', shape }] }),
      ],
    });
    expect(padCodes(clip(nd, 'unchanged'))).toEqual([]);
    expect(padCodes(clip(nd, 'changed'))).toContain('clip error no-derivatives');
    expect(padCodes(clip(null, 'unchanged'))).toContain('whole error no-derivatives');
  });

  it('what a part came from counts far up: permission, credit, policy and use', () => {
    const works: Works = {
      works: [
        work('c', sa, ['Ada'], { parts: [part('pad', 'CC-BY-4.0')] }),
        work('b', sa, ['Ada'], { parts: [part('pad', 'CC-BY-4.0')] }),
        work('a', sa, ['Ada'], { parts: [part('grip', 'CC-BY-NC-4.0', ['Sanna'])] }),
      ],
      descents: [
        descent('c', 'b', 'remix', { parts: [{ part: 'pad', from: 'pad', shape: 'changed' }] }),
        descent('b', 'a', 'remix', { parts: [{ part: 'pad', from: 'grip', shape: 'changed' }] }),
      ],
    };
    expect(padCodes(works)).toEqual(['whole error credit-missing', 'pad warning two-licenses']);
    const [missing] = first(works);
    expect([missing.text, missing.path.at(-1)?.to]).toEqual([
      expect.stringContaining('Sanna, of a/grip'),
      'a/grip',
    ]);
    expect(padCodes(works, { policy: { forbid: ['CC-BY-NC-4.0'] } })).toContain(
      'pad error license-forbidden',
    );
    const { use, duties } = audit(works, { targets: ['c'], use: 'sale' }).works[0];
    expect(use).toMatchObject({
      answer: 'not-permitted',
      reasons: [{ work: 'a/grip' }],
      names: ['Ada', 'Sanna'],
    });
    expect(duties.some(({ work: of, duty }) => of === 'a/grip' && duty.kind === 'credit')).toBe(true);
  });

  it('where every part has a license, none of the whole is missed further down', () => {
    const pads = (license: string | null) => [part('pad', license)];
    const works: Works = {
      works: [
        work('b', null, ['Ada'], { parts: pads('MIT') }),
        work('a', null, ['Ada'], { parts: pads('MIT') }),
      ],
      descents: [descent('b', 'a', 'remix')],
    };
    expect(padCodes(works)).toEqual([]);
    const bare = { ...works, works: [works.works[0], work('a', null, ['Ada'], { parts: pads(null) })] };
    expect(padCodes(bare)).toEqual(['whole error no-permission', 'pad error no-permission']);
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
    oldest: {
      ours: { work: 'pen@A', date: '2025-05-12' },
      theirs: { work: 'cuff@B', date: '2024-02-17' },
    },
  } as const;
  const cuff = work('cuff@B', sa, ['Ada'], { date: '2024-02-17' });
  const pen = (license: string, names: string[]) => work('pen@A', license, names, { date: '2025-05-12' });

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

  it('which came first is told by the dates of letters, to both sides', () => {
    const works: Works = { works: [pen('CC-BY-4.0', ['Wim']), cuff], descents: [] };
    const dated = (ours: string | null, theirs: string | null) =>
      first(works, {
        facts: [
          {
            ...fact,
            oldest: {
              ours: ours === null ? null : { work: 'pen@A', date: ours },
              theirs: theirs === null ? null : { work: 'cuff@B', date: theirs },
            },
          },
        ],
      })[0];
    const told = (...dates: [string | null, string | null]) => {
      const { severity, code } = dated(...dates);
      return `${severity} ${code}`;
    };
    expect(told('2025-05-12', '2024-02-17')).toBe('error undeclared-relative');
    expect(dated('2025-05-12', '2024-02-17').text).toContain(
      'cuff@B of 2024-02-17 is the older letter (pen@A of 2025-05-12 the younger).',
    );
    expect(told('2024-02-17', '2025-05-12')).toBe('note younger-relative');
    expect(dated('2024-02-17', '2025-05-12').text).toContain('pen@A of 2024-02-17 is the older letter');
    // What has no letter is younger than what has; where no date tells, a person must.
    expect(told(null, '2024-02-17')).toBe('error undeclared-relative');
    expect(told('2024-02-17', null)).toBe('note younger-relative');
    expect(told('2024-02-17', '2024-02-17')).toBe('ask undeclared-relative');
    expect(told(null, null)).toBe('ask undeclared-relative');
  });

  it('is a question where only places are alike', () => {
    const alone: Works = { works: [pen('CC-BY-4.0', ['Wim']), cuff], descents: [] };
    expect(codes(alone, { facts: [{ ...fact, kinship: 'reworked', scale: null }] })).toEqual([
      'ask undeclared-relative',
    ]);
  });

  it('is only a warning where nothing is broken, and nothing once declared', () => {
    expect(codes({ works: [pen(sa, ['Ada', 'Wim']), cuff], descents: [] }, { facts: [fact] })).toEqual([
      'warning undeclared-relative',
    ]);
    expect(
      codes(
        { works: [pen(sa, ['Ada']), cuff], descents: [descent('pen@A', 'cuff@B', 'rescale')] },
        { facts: [fact] },
      ),
    ).toEqual([]);
  });
});

it('notes a license-withdrawn ancestor, and errs for nothing: copies received before stay licensed', () => {
  const older = work('a', 'CC-BY-4.0', ['Robin Sample'], { withdrawn: true });
  const newer = work('b', 'CC-BY-4.0', ['Robin Sample']);
  const { works } = audit(
    { works: [older, newer], descents: [{ ...descent('b', 'a', 'remix'), changes: 'Wider.' }] },
    { targets: ['b'] },
  );
  expect(works[0].findings.map(({ code, severity, path }) => [code, severity, path.at(-1)?.to])).toEqual([
    ['license-withdrawn', 'note', 'a'],
  ]);
});
