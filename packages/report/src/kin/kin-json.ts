import type { KinReport } from '@kinprint/registry';

/** `kinprint kin --json`; its schema stands in `schemas/output/kin.schema.json`. */
export function kinJson({ answers, ...report }: KinReport): object {
  return {
    schema: 'kinprint:output/kin/1',
    ...report,
    answers: answers.map(({ relatives, ...answer }) => ({
      ...answer,
      relatives: relatives.map(({ kinship, places, evidence, query_body, body, distance }) => ({
        ...kinship,
        evidence,
        places,
        query_body,
        body,
        fingerprint_distance: distance,
      })),
    })),
  };
}
