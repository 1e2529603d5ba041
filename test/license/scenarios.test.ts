import { describe, expect, it } from 'vitest';
import { audit, type AuditedWork, type Descent, type Work } from '@kinprint/license';
import { licenseReference } from './reference.ts';

interface Scenario {
  readonly id: string;
  readonly parents: readonly (string | null)[];
  readonly change: string;
  readonly child: string;
  readonly expected: string;
  readonly why: string;
  readonly extra?: {
    readonly credit?: string;
    readonly modified_mark?: boolean;
    readonly extra_terms?: boolean;
    readonly upstream_status?: string;
  };
}
const { scenarios } = licenseReference<{ scenarios: Scenario[] }>('audit-scenarios.json');

const relations: Record<string, Descent['relation']> = {
  none: 'copy',
  format_only: 'copy',
  uniform_rescale: 'rescale',
  modified: 'remix',
  combined: 'combination',
  collection: 'combination',
  'combined via documented interface': 'combination',
};

/** The scenario as works: the parents by Ada, the child by Ben, who names Ada unless the scenario says otherwise. */
function audited(scenario: Scenario, childLicense: string | null): AuditedWork {
  const { parents, change, extra } = scenario;
  const work = (id: string, license: string | null, names: readonly string[]): Work => ({
    id,
    title: id,
    license,
    authors: names.map(name => ({ name })),
    parts: [],
    known: true,
    date: null,
    url: null,
  });
  const supplied = extra?.credit === 'creator absent in parent' ? [] : ['Ada'];
  const older = parents.map((license, k): Work => ({
    ...work(`parent-${k}`, license, supplied),
    ...(extra?.credit === 'removed on request' ? { withheld: ['Ada'] } : {}),
    ...(extra?.upstream_status === 'withdrawn' ? { withdrawn: true } : {}),
  }));
  const silent = extra?.credit !== undefined && extra.credit !== 'complete';
  const child: Work = {
    ...work('child', childLicense, silent ? ['Ben'] : ['Ada', 'Ben']),
    published: scenario.child !== 'unpublished',
    extraTerms: extra?.extra_terms === true ? 'no resale, no reupload' : null,
    parts:
      change === 'collection'
        ? parents.map((license, k) => ({ id: `part-${k}`, license, authors: null }))
        : [],
  };
  const descents = older.map((parent): Descent => ({
    from: 'child',
    to: parent.id,
    relation: relations[change],
    changes: extra?.modified_mark === false ? null : 'Made wider.',
    collection: change === 'collection',
    interfaceOnly: change === 'combined via documented interface',
  }));
  const use = scenario.id === 'S28' ? 'sale' : scenario.id === 'S44' ? 'clinic' : null;
  return audit({ works: [child, ...older], descents }, { targets: ['child'], use }).works[0];
}

/** The worst of the findings and of the answer about the use, in the words of the scenarios. */
function verdictOf({ findings, use, duties }: AuditedWork): string {
  const has = (severity: string): boolean => findings.some(finding => finding.severity === severity);
  if (has('error') || use?.answer === 'not-permitted') return 'not_permitted';
  if (has('ask') || use?.answer === 'ask') return 'needs_human';
  if (has('warning') || use?.answer === 'not-recommended') return 'not_recommended';
  return duties.some(({ duty }) => duty.required) ? 'permitted_with_duties' : 'permitted';
}

function childLicenses({ child, parents }: Scenario): (string | null)[] {
  switch (child) {
    case 'unpublished':
      return [parents[0]];
    case 'per-part':
    case 'commercial kit':
      return [null];
    case 'any':
      return ['GPL-2.0-only', 'GPL-3.0-only', 'MIT', 'CC-BY-SA-4.0', null];
    case 'outer part under any licence':
      return ['MIT', 'CC-BY-NC-4.0', 'GPL-3.0-only'];
    default:
      return [child];
  }
}

describe('the worked scenarios', () => {
  it('are all there', () => expect(scenarios).toHaveLength(48));

  it.each(scenarios)('$id: $why', scenario => {
    for (const license of childLicenses(scenario)) {
      const outcome = audited(scenario, license);
      const verdict = verdictOf(outcome);
      const told = JSON.stringify(outcome.findings.map(finding => finding.text));
      switch (scenario.expected) {
        // Whether duties are told besides is for the reader; what counts is that nothing stands in the way.
        case 'permitted':
          expect(['permitted', 'permitted_with_duties'], told).toContain(verdict);
          break;
        case 'violation':
          expect(verdict, told).toBe('not_permitted');
          break;
        default:
          expect(verdict, told).toBe(scenario.expected);
      }
    }
  });

  it('tell what the scenario is about, by code and clause', () => {
    const codes = (id: string): [string, string | undefined][] => {
      const scenario = scenarios.find(s => s.id === id);
      if (scenario === undefined) throw new Error(id);
      return audited(scenario, childLicenses(scenario)[0]).findings.map(f => [f.code, f.basis?.clause]);
    };
    expect(codes('S01')).toContainEqual(['no-derivatives', 'adapter chart, BY-ND to BY-ND']);
    expect(codes('S06')).toContainEqual(['share-alike', 'CC-BY-SA-4.0 3(b)(1)']);
    expect(codes('S11')).toContainEqual(['version-not-allowed', 'CC-BY-SA-4.0 3(b)(1)']);
    expect(codes('S12')).toContainEqual(['version-not-allowed', 'CC-BY-SA-1.0 4(b)']);
    expect(codes('S17')).toEqual([['two-licenses', 'adapter chart, BY-NC to BY']]);
    expect(codes('S22')).toEqual([['credit-custom', undefined]]);
    expect(codes('S24')).toContainEqual(['cannot-combine', 'combination chart, BY-SA and BY-NC']);
    expect(codes('S29')).toContainEqual(['no-permission', 'copyright without a license']);
    expect(codes('S30')).toEqual([['credit-missing', 'CC-BY-4.0 3(a)(1)(A)(i)']]);
    expect(codes('S31')).toEqual([['change-not-indicated', 'CC-BY-4.0 3(a)(1)(B)']]);
    expect(codes('S37')).toContainEqual(['share-alike', 'CERN-OHL-S-2.0 3.3(d)']);
    expect(codes('S43')).toEqual([['extra-terms', 'CC-BY-4.0 2(a)(5)(B)']]);
    expect(codes('S46')).toEqual([['copy-relabeled', 'CC-BY-SA-4.0 2(a)(5)(A), (C)']]);
  });
});
