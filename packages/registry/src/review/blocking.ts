import type { RegistryDocument } from '@kinprint/manifest';
import type { Decision, ReviewCounts, ReviewFinding, VariantReview } from './types.ts';

type Policy = NonNullable<NonNullable<RegistryDocument['policy']>['review']>;

/** Marks the findings that the policy blocks on, and sorts them: the blocking ones first, then by severity. */
export function withBlocking(findings: readonly ReviewFinding[], policy: Policy | null): ReviewFinding[] {
  const block = new Set(policy?.block ?? ['error']);
  const pass = new Set(policy?.pass ?? []);
  const marked = findings.map(each => ({
    ...each,
    blocks: !pass.has(each.code) && (block.has(each.code) || block.has(each.severity)),
  }));
  const order = ['error', 'ask', 'warning', 'note'];
  const weight = ({ blocks, severity }: ReviewFinding): number => (blocks ? 0 : 10) + order.indexOf(severity);
  return marked.sort((a, b) => weight(a) - weight(b));
}

export function countsOfReview(findings: readonly ReviewFinding[]): ReviewCounts {
  const count = (severity: ReviewFinding['severity']): number =>
    findings.filter(f => f.severity === severity).length;
  return {
    blocking: findings.filter(f => f.blocks).length,
    errors: count('error'),
    warnings: count('warning'),
    asks: count('ask'),
    notes: count('note'),
  };
}

export function decisionOf(
  variants: readonly VariantReview[],
  files: readonly unknown[],
  { blocking, errors, warnings, asks }: ReviewCounts,
): Decision {
  if (blocking > 0) return 'blocked';
  if (variants.length === 0 && files.length === 0) return 'nothing';
  return errors + warnings + asks > 0 ? 'ask' : 'clear';
}
