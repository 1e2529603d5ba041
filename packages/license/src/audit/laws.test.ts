import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareAnswers } from '../rules/grade.ts';
import { audit } from './audit.ts';
import { chain, descent, work } from './testing.ts';
import type { Descent, Relation, Works } from './works.ts';

const licenses = [
  'CC0-1.0',
  'CC-BY-4.0',
  'CC-BY-3.0',
  'CC-BY-SA-3.0',
  'CC-BY-SA-4.0',
  'CC-BY-NC-4.0',
  'CC-BY-ND-4.0',
  'MIT',
  'GPL-3.0-only',
  'GPL-2.0-or-later',
  'CERN-OHL-S-2.0',
  'Apache-2.0',
  'CC-BY-4.0 OR MIT',
  'MIT AND CC-BY-SA-4.0',
  'LicenseRef-own',
];
const license = fc.option(fc.constantFrom(...licenses), { freq: 8 });
const relation: fc.Arbitrary<Relation> = fc.constantFrom(
  'revision',
  'copy',
  'mirror',
  'rescale',
  'remix',
  'combination',
);

/** Works 0 … n - 1; each may come from any with a higher number. Without circles. */
const lineage: fc.Arbitrary<Works> = fc.integer({ min: 2, max: 8 }).chain(n =>
  fc.record({
    works: fc.tuple(
      ...Array.from({ length: n }, (_, k) => license.map(l => work(`w${k}`, l, [`author ${k}`]))),
    ),
    descents: fc
      .array(fc.tuple(fc.nat(n - 1), fc.nat(n - 1), relation, fc.boolean()), { maxLength: 12 })
      .map(all =>
        all
          .filter(([from, to]) => from < to)
          .map(([from, to, how, told]): Descent =>
            descent(`w${from}`, `w${to}`, how, { changes: told ? 'Wider.' : null }),
          ),
      ),
  }),
);

const one = (works: Works, use: 'sale' | 'clinic' = 'sale') =>
  audit(works, { targets: ['w0'], use }).works[0];

describe('laws', () => {
  it('another ancestor never takes a duty away, nor a name that is owed, nor makes a use freer (property)', () => {
    fc.assert(
      fc.property(lineage, license, relation, fc.nat(), (works, added, how, at) => {
        const from = works.works[at % works.works.length].id;
        const more: Works = {
          works: [...works.works, work('new', added, ['another author'])],
          descents: [...works.descents, descent(from, 'new', how)],
        };
        const [before, after] = [one(works), one(more)];
        const keys = (audited: typeof before) =>
          audited.duties.map(d => `${d.work} ${d.duty.kind} ${d.duty.clause}`);
        expect(keys(after)).toEqual(expect.arrayContaining(keys(before)));
        const owed = (audited: typeof before) =>
          audited.findings
            .filter(f => f.code === 'credit-missing')
            .map(f => f.text)
            .join();
        for (const w of works.works.slice(1)) {
          const [name] = w.authors;
          if (owed(before).includes(`${name.name},`)) expect(owed(after)).toContain(name.name);
        }
        expect(
          compareAnswers(after.use?.answer ?? 'permitted', before.use?.answer ?? 'permitted'),
        ).toBeGreaterThanOrEqual(0);
      }),
      { numRuns: 300 },
    );
  });

  it('a parent under A OR B is an error only when it is one under A and under B (property)', () => {
    const bad = (parent: string, child: string | null, how: Relation): boolean =>
      audit(chain([work('w0', child, ['A']), work('w1', parent, ['A'])], how), {
        targets: ['w0'],
      }).works[0].findings.some(f => f.severity === 'error' && f.path.length > 0);
    const id = fc.constantFrom(...licenses.filter(l => !l.includes(' ')));
    fc.assert(
      fc.property(id, id, license, relation, (a, b, child, how) => {
        expect(bad(`${a} OR ${b}`, child, how)).toBe(bad(a, child, how) && bad(b, child, how));
      }),
      { numRuns: 300 },
    );
  });

  it('circles come to an end, and every path leads to where it says (property)', () => {
    fc.assert(
      fc.property(lineage, fc.nat(7), fc.nat(7), (works, a, b) => {
        const circled: Works = {
          ...works,
          descents: [...works.descents, descent(`w${b}`, `w${a}`, 'remix')],
        };
        for (const { findings, id } of audit(circled).works)
          for (const { path } of findings) {
            let at = id;
            for (const step of path) {
              expect(
                circled.descents.some(d => d.from === at && d.to === step.to && d.relation === step.relation),
              ).toBe(true);
              at = step.to;
            }
          }
      }),
    );
  });

  it('the cost is linear: ten times the lineage is looked at ten times as often, however many paths there are', () => {
    // A ladder: each work came from both of the next rung, so the number of paths doubles with every rung.
    const ladder = (rungs: number): Works => ({
      works: Array.from({ length: rungs * 2 }, (_, k) =>
        work(`w${k}`, licenses[k % 5], ['A'], {
          parts: [{ id: 'pad', license: licenses[k % 3], authors: null }],
        }),
      ),
      descents: Array.from({ length: (rungs - 1) * 2 }, (_, k) => [
        descent(`w${k}`, `w${k - (k % 2) + 2}`, 'remix'),
        descent(`w${k}`, `w${k - (k % 2) + 3}`, 'copy'),
      ]).flat(),
    });
    /** How often anything of a work or a link is read. */
    const reads = (rungs: number): number => {
      let count = 0;
      const counted = <T extends object>(value: T): T =>
        new Proxy(value, {
          get: (target, key) => {
            count += 1;
            return Reflect.get(target, key) as unknown;
          },
        });
      const { works, descents } = ladder(rungs);
      audit({ works: works.map(counted), descents: descents.map(counted) }, { targets: ['w0'], use: 'sale' });
      return count;
    };
    // Quadratic cost would be a factor of 100. The path to a finding is told once for each, and grows with the lineage.
    expect(reads(1_000) / reads(100)).toBeLessThan(11);
  });
});
