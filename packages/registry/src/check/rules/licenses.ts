import {
  licenseProblem,
  type DocumentKind,
  type ReadDocument,
  type RegistryDocument,
  type VariantDocument,
} from '@kinprint/manifest';
import type { VariantState } from '../../state/types.ts';
import { finding, inDocument, inManifest, type DocumentPath, type Finding } from '../finding.ts';
import { listing } from '../words.ts';

/** Expressions that are no SPDX license expressions, and parts that nobody may use as no license is stated. */
export function licenseFindings(
  variant: VariantState,
  manifest: VariantDocument,
  registry: RegistryDocument | null,
): Finding[] {
  const { document, address } = variant;
  const findings = [
    ...wrong(document, manifest.license, ['license'], address, null),
    ...manifest.parts.flatMap((part, k) =>
      wrong(document, part.license, ['parts', k, 'license'], address, part.id),
    ),
  ];
  if (manifest.license !== undefined || registry?.license !== undefined) return findings;
  const bare = manifest.parts.filter(part => part.license === undefined).map(part => part.id);
  if (bare.length === 0 && manifest.parts.length > 0) return findings;
  const which = bare.length === manifest.parts.length ? 'the variant' : listing(bare.map(id => `'${id}'`));
  findings.push(
    inManifest(
      variant,
      'license-missing',
      ['title'],
      `No license is stated for ${which}: all rights are reserved, so nobody may copy, change or print it.`,
      'Ask the authors, and state license: in the manifest (an SPDX expression, e.g. CC-BY-4.0).',
    ),
  );
  return findings;
}

/** Likewise for registry.yaml. */
export function registryLicenseFindings(document: ReadDocument<'registry'>): Finding[] {
  const { license, policy } = document.value ?? {};
  return [
    ...wrong(document, license, ['license'], null, null),
    ...(policy?.licenses?.forbid ?? []).flatMap((expression, k) =>
      wrong(document, expression, ['policy', 'licenses', 'forbid', k], null, null),
    ),
  ];
}

function wrong(
  document: ReadDocument<DocumentKind>,
  expression: string | undefined,
  path: DocumentPath,
  variant: string | null,
  part: string | null,
): Finding[] {
  const problem = expression === undefined ? null : licenseProblem(expression);
  if (problem === null) return [];
  const of = variant === null ? {} : { variant, part };
  return [finding('license-wrong', inDocument(document, path), problem.text, problem.remedy, of)];
}
