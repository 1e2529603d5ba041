import { auditCodes } from '@kinprint/license';
import type { PlacedFinding, RegistryAudit } from '@kinprint/registry';

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
            rules: used.map(id => ({ id, defaultConfiguration: { level: levels[auditCodes[id]] } })),
          },
        },
        columnKind: 'utf16CodeUnits',
        results: findings.map(finding => result(finding, used.indexOf(finding.code), prefix)),
        properties: { disclaimer: report.disclaimer },
      },
    ],
  };
}

function result(finding: PlacedFinding, ruleIndex: number, prefix: string): object {
  const { code, severity, work, part, text, remedy, path, also, basis } = finding;
  return {
    ruleId: code,
    ruleIndex,
    level: levels[severity],
    message: { text: `${text} ${remedy}` },
    locations: [
      {
        ...physical(finding, prefix),
        logicalLocations: [{ fullyQualifiedName: part === null ? work : `${work}/${part}` }],
      },
    ],
    properties: { severity, path, also, basis },
  };
}

function physical({ file, line, column }: PlacedFinding, prefix: string): object {
  if (file === null) return {};
  const steps = [...(prefix === '' ? [] : prefix.split('/')), ...file.split('/')];
  return {
    physicalLocation: {
      artifactLocation: { uri: steps.map(step => encodeURIComponent(step.toWellFormed())).join('/') },
      ...(line === null
        ? {}
        : { region: { startLine: line, ...(column === null ? {} : { startColumn: column }) } }),
    },
  };
}
