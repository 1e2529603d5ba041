import type { RegistryAudit } from '@kinprint/registry';
import { cardText } from './audit-words.ts';

/** `kinprint audit --json`; its schema stands in `schemas/output/audit.schema.json`. */
export function auditJson({ works, ...report }: RegistryAudit): object {
  return {
    schema: 'kinprint:output/audit/1',
    ...report,
    works: works.map(({ credits, ...work }) => ({
      ...work,
      use: work.use === null ? null : { ...work.use, card: cardText(credits) },
    })),
  };
}
