import type { Review, ReviewFinding } from '@kinprint/registry';
import { findingLocation } from '../sarif/finding-location.ts';
import { sarifLog } from '../sarif/sarif-log.ts';

/** A question for a person must not pass unseen: SARIF has no word for it. */
const levels = { error: 'error', warning: 'warning', ask: 'warning', note: 'note' } as const;

/**
 * The findings of a review as a log of the Static Analysis Results Interchange Format (OASIS SARIF 2.1.0), placed at the
 * lines of manifests where they would be mended.
 *
 * @param prefix the registry's folder in its repository, without slash at the end; empty for the root
 */
export function reviewSarif({ findings }: Review, version: string, prefix: string): object {
  return sarifLog({
    name: 'kinprint review',
    version,
    results: findings.map(each => resultOf(each, prefix)),
  });
}

function resultOf(finding: ReviewFinding, prefix: string) {
  const { origin, code, severity, blocks, text, remedy, variant, part } = finding;
  const name = [variant, part].filter(each => each !== null).join('/');
  const physical = findingLocation(finding, prefix);
  return {
    ruleId: `${origin}/${code}`,
    level: levels[severity],
    message: { text: `${text} ${remedy}` },
    locations: [
      { ...physical, ...(name === '' ? {} : { logicalLocations: [{ fullyQualifiedName: name }] }) },
    ],
    properties: { severity, blocks },
  };
}
