import type { Review, ReviewFinding } from '@kinprint/registry';
import { xml } from '../lineage/xml.ts';
import { findingPlaceWords } from './finding-words.ts';

/**
 * The findings as a test report in the form that build servers read (the JUnit XML form: `testsuites`, `testsuite`,
 * `testcase`; common practice, it has no standard). One suite for each variant, one case for each finding: a blocking one
 * is a failure, all others are said in the case's output. What was looked at without a finding is a case that passed.
 */
export function reviewJunit({ variants, findings, after }: Review): string {
  const groups = new Map<string, { readonly passed: string[]; readonly findings: ReviewFinding[] }>();
  const group = (name: string) => {
    const known = groups.get(name) ?? { passed: [], findings: [] };
    groups.set(name, known);
    return known;
  };
  for (const { address, parts } of variants) {
    const marked = new Set(findings.filter(each => each.variant === address).map(({ part }) => part));
    group(address).passed.push(...parts.map(({ id }) => id).filter(id => !marked.has(id)));
  }
  for (const finding of findings) group(finding.variant ?? 'registry').findings.push(finding);
  const suites = [...groups].map(([name, { passed, findings: own }]) => {
    const cases = [
      ...passed.map(id => `    <testcase classname="${xml(name)}" name="${xml(id)}"/>`),
      ...own.map(each => caseOf(name, each)),
    ];
    const failures = own.filter(({ blocks }) => blocks).length;
    return [
      `  <testsuite name="${xml(name)}" tests="${cases.length}" failures="${failures}" errors="0" skipped="0">`,
      ...cases,
      '  </testsuite>',
    ].join('\n');
  });
  const tests = [...groups.values()].reduce(
    (sum, { passed, findings: own }) => sum + passed.length + own.length,
    0,
  );
  const failures = findings.filter(({ blocks }) => blocks).length;
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<testsuites name="${xml(`kinprint review ${after.name}`)}" tests="${tests}" failures="${failures}" errors="0">`,
    ...suites,
    '</testsuites>',
    '',
  ].join('\n');
}

function caseOf(suite: string, finding: ReviewFinding): string {
  const { code, part, blocks, severity, text, remedy } = finding;
  const name = part === null ? code : `${part}: ${code}`;
  const place = findingPlaceWords(finding);
  const body = [place, text, remedy].flatMap(each => (each === null ? [] : [xml(each)])).join('\n');
  const open = `    <testcase classname="${xml(suite)}" name="${xml(name)}">`;
  const inner = blocks
    ? `      <failure type="${severity}" message="${xml(text)}">${body}</failure>`
    : `      <system-out>${body}</system-out>`;
  return [open, inner, '    </testcase>'].join('\n');
}
