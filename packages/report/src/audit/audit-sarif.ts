import { auditCodes, type AuditCode } from '@kinprint/license';
import type { PlacedFinding, RegistryAudit } from '@kinprint/registry';
import { findingLocation } from '../sarif/finding-location.ts';
import { sarifLog, type SarifResult } from '../sarif/sarif-log.ts';

/** A question for a person must not pass unseen: SARIF has no word for it. */
const levels = { error: 'error', warning: 'warning', ask: 'warning', note: 'note' } as const;

/**
 * The findings as a log of the Static Analysis Results Interchange Format (OASIS SARIF 2.1.0), placed at the lines of
 * manifests where they would be mended.
 *
 * @param prefix the registry's folder in its repository, without slash at the end; empty for the root. A code host
 *   reads paths from the repository's root
 */
export function auditSarif(report: RegistryAudit, version: string, prefix: string): object {
  const findings = report.works.flatMap(work => work.findings);
  return sarifLog({
    name: 'kinprint audit',
    version,
    results: findings.map(finding => result(finding, prefix)),
    usual: rule => levels[auditCodes[rule as AuditCode]],
    properties: { disclaimer: report.disclaimer },
  });
}

function result(finding: PlacedFinding, prefix: string): SarifResult {
  const { code, severity, work, part, text, remedy, path, also, basis } = finding;
  return {
    ruleId: code,
    level: levels[severity],
    message: { text: `${text} ${remedy}` },
    locations: [
      {
        ...findingLocation(finding, prefix),
        logicalLocations: [{ fullyQualifiedName: part === null ? work : `${work}/${part}` }],
      },
    ],
    properties: { severity, path, also, basis },
  };
}
