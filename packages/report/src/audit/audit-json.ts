import type { RegistryAudit } from '@kinprint/registry';

/** `kinprint audit --json`; its schema stands in `schemas/output/audit.schema.json`. */
export function auditJson(report: RegistryAudit): object {
  return { schema: 'kinprint:output/audit/1', ...report };
}
