import fc from 'fast-check';
import { SaxesParser } from 'saxes';
import { describe, expect, it } from 'vitest';
import type { ReviewFinding } from '@kinprint/registry';
import { reviewJunit, reviewSarif } from '@kinprint/report';
import { sampleReview } from '../support/review-samples.ts';
import { publishedObjections } from '../support/published-schemas.ts';

/** What a stranger may write: any characters, also halves of surrogate pairs and control characters. */
const text = fc.oneof(
  fc.string({ unit: 'binary' }),
  fc.constantFrom('\ud800', ']]>', '\u0000\u0008', '%2e%2e/', 'a b#c?d'),
);
const name = fc.option(text, { nil: null });
const place = fc.option(fc.integer({ min: 1, max: 1e6 }), { nil: null });

const finding: fc.Arbitrary<ReviewFinding> = fc.record({
  origin: fc.constantFrom('review', 'check', 'audit'),
  code: fc.constantFrom('not-interchangeable', 'license-none', 'x'),
  severity: fc.constantFrom('error', 'warning', 'ask', 'note'),
  blocks: fc.boolean(),
  text,
  remedy: text,
  variant: name,
  part: name,
  file: name,
  line: place,
  column: place,
});

describe('findings of any kind, for programs', () => {
  it('are SARIF as its schema wants it, and name their files', () => {
    fc.assert(
      fc.property(
        fc.array(finding, { maxLength: 5 }),
        fc.constantFrom('', 'sub', 'a folder/ö'),
        (findings, prefix) => {
          const log = reviewSarif(sampleReview([], findings), '0.1.0', prefix);
          expect(publishedObjections('sarif', JSON.parse(JSON.stringify(log)))).toEqual([]);
          const { results } = (log as { runs: readonly [{ results: readonly Result[] }] }).runs[0];
          results.forEach(({ locations: [{ physicalLocation: at }] }, k) => {
            const { file } = findings[k];
            if (file === null) return expect(at).toBeUndefined();
            const whole = prefix === '' ? file : `${prefix}/${file}`;
            const uri = at?.artifactLocation.uri ?? '';
            expect(decodeURIComponent(uri)).toBe(whole.toWellFormed());
            expect(uri).toMatch(/^[\w.!~*'()%/-]*$/);
          });
        },
      ),
    );
  });

  it('are a test report that an XML parser takes, a case for each and a failure for each that blocks', () => {
    fc.assert(
      fc.property(fc.array(finding, { maxLength: 5 }), findings => {
        const names: string[] = [];
        const parser = new SaxesParser();
        parser.on('error', error => {
          throw error;
        });
        parser.on('opentag', ({ name }) => names.push(name));
        parser.write(reviewJunit(sampleReview([], findings))).close();
        const count = (name: string): number => names.filter(each => each === name).length;
        expect(count('testcase')).toBe(findings.length);
        expect(count('failure')).toBe(findings.filter(({ blocks }) => blocks).length);
      }),
    );
  });
});

interface Result {
  readonly locations: readonly [
    { readonly physicalLocation?: { readonly artifactLocation: { readonly uri: string } } },
  ];
}
