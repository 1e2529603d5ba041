import { auditCodes, type AuditFinding } from '@kinprint/license';
import type { RegistryAudit } from '@kinprint/registry';

/** `kinprint audit --json`; its schema stands in `schemas/output/audit.schema.json`. */
export function auditJson(report: RegistryAudit): object {
  return { schema: 'kinprint:output/audit/1', ...report };
}

const sarifLevels = { error: 'error', warning: 'warning', ask: 'warning', note: 'note' } as const;

/**
 * The findings as a log of the Static Analysis Results Interchange Format (OASIS SARIF 2.1.0), placed at manifests.
 *
 * @param folderOf the folder of a variant from the registry's root; null for a variant that is not in it
 */
export function auditSarif(
  report: RegistryAudit,
  version: string,
  folderOf: (address: string) => string | null,
): object {
  const findings = report.works.flatMap(work => work.findings);
  const used = [...new Set(findings.map(finding => finding.code))].sort();
  return {
    $schema: 'https://json.schemastore.org/sarif-2.1.0.json',
    version: '2.1.0',
    runs: [
      {
        tool: {
          driver: {
            name: 'kinprint audit',
            version,
            rules: used.map(id => ({ id, defaultConfiguration: { level: sarifLevels[auditCodes[id]] } })),
          },
        },
        results: findings.map(finding => result(finding, used.indexOf(finding.code), folderOf)),
        properties: { disclaimer: report.disclaimer },
      },
    ],
  };
}

function result(
  finding: AuditFinding,
  ruleIndex: number,
  folderOf: (address: string) => string | null,
): object {
  const { code, severity, work, part, text, remedy, path, also, basis } = finding;
  const folder = folderOf(work.split('@')[0]);
  return {
    ruleId: code,
    ruleIndex,
    level: sarifLevels[severity],
    message: { text: `${text} ${remedy}` },
    locations: [
      {
        ...(folder === null
          ? {}
          : { physicalLocation: { artifactLocation: { uri: encodeURI(`${folder}/variant.yaml`) } } }),
        logicalLocations: [{ fullyQualifiedName: part === null ? work : `${work}/${part}` }],
      },
    ],
    properties: { severity, path, also, basis },
  };
}
