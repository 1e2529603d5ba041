import { licenseProblem } from '@kinprint/manifest';
import { alternativesOf } from '../expression/alternatives.ts';
import { parseExpression } from '../expression/parse.ts';
import { expressionText, termText } from '../expression/tree.ts';
import { choicesOf } from '../rules/choices.ts';
import { basisOf, finding, teller, type AuditFinding } from './findings.ts';
import type { WorkGraph } from './graph.ts';
import { pathTo, type Layer } from './walk.ts';
import type { Duty } from '../rules/types.ts';
import { coveredByParts, type LicensePolicy, type Work } from './works.ts';
import { read } from '../rules/basis.ts';
import { reserved } from '../rules/find-license.ts';

/** What can be said of a work and its license without looking at any other. */
export function ownFindings(work: Work): AuditFinding[] {
  return [
    ...(work.license === null ? unlicensed(work) : expressionFindings(work, work.license, null)),
    ...work.parts.flatMap(part =>
      part.license === null ? [] : expressionFindings(work, part.license, part.id),
    ),
  ];
}

function unlicensed(work: Work): AuditFinding[] {
  if (coveredByParts(work)) return [];
  return [
    finding(
      'license-none',
      work.id,
      `No license is stated for ${work.id}: all rights are reserved, so nobody may copy, change or print it.`,
      'Ask its authors, and state license: in the manifest.',
      { basis: basisOf(reserved.adapt) },
    ),
  ];
}

function expressionFindings(work: Work, text: string, part: string | null): AuditFinding[] {
  const parsed = parseExpression(text, '3.0');
  const problem = licenseProblem(text);
  if (!parsed.ok)
    return [
      finding(
        'license-wrong',
        work.id,
        problem?.text ?? `'${text}' is no license expression.`,
        problem?.remedy ?? 'Write an SPDX license expression.',
        { part },
      ),
    ];
  if (parsed.outOfUse.length === 0) return [];
  return [
    finding(
      'license-out-of-use',
      work.id,
      `${parsed.outOfUse.join(', ')} is out of use; it is read as ${expressionText(parsed.expression)}.`,
      problem?.remedy ?? `Write ${expressionText(parsed.expression)}.`,
      { part },
    ),
  ];
}

/** Licenses that the registry's policy forbids, in the work or in anything it holds; and terms that may not be added. */
export function policyFindings(
  graph: WorkGraph,
  work: Work,
  layers: readonly Layer[],
  policy: LicensePolicy,
): AuditFinding[] {
  const forbidden = new Set((policy.forbid ?? []).flatMap(termNames));
  const told = teller();
  for (const layer of layers) {
    const license = graph.license(layer.work);
    const alternatives = license === null ? null : alternativesOf(license);
    if (alternatives === null || (layer.letter && layer.own)) continue;
    const bad = alternatives.map(terms => terms.find(term => forbidden.has(termText(term))));
    if (!bad.every(term => term !== undefined)) continue;
    const name = bad.map(termText).join(' OR ');
    const where = layer.work === work ? work.id : `${layer.work.id}, from which ${work.id} came,`;
    // The work itself is always told of on its own: there it can be mended.
    told.tell(`${name} ${layer.work === work}`, layer.work.id, () =>
      finding(
        'license-forbidden',
        work.id,
        `${where} is under ${name}, which this registry's policy forbids.`,
        'Leave it out, ask for another license, or change policy.licenses.forbid.',
        { path: pathTo(layer) },
      ),
    );
  }
  return told.findings();
}

function termNames(text: string): string[] {
  const parsed = parseExpression(text, '3.0');
  return parsed.ok && parsed.expression.kind === 'license' ? [termText(parsed.expression)] : [];
}

/** Terms added to a work that holds something which allows none, and licenses that are no longer offered. */
export function termFindings(graph: WorkGraph, work: Work, layers: readonly Layer[]): AuditFinding[] {
  const told = teller();
  const extra = (work.extraTerms ?? '').trim();
  for (const layer of layers) {
    const duty = extra === '' || layer.own ? null : noExtra(graph, layer.work);
    if (duty !== null)
      told.tell('extra', layer.work.id, () =>
        finding(
          'extra-terms',
          work.id,
          `${work.id} adds terms of its own ('${extra}') to ${layer.work.id}, which allows none.`,
          'Take the terms away, or ask the authors.',
          { path: pathTo(layer), basis: basisOf(duty) },
        ),
      );
    if (layer.work.withdrawn === true)
      told.tell('withdrawn', layer.work.id, () =>
        finding(
          'license-withdrawn',
          work.id,
          `${layer.work.id} is no longer offered under its license; copies received before stay licensed.`,
          'Keep proof of when it was received and under which license.',
          { path: pathTo(layer), basis: read('CC-BY-4.0 2(a)(1), 6(d)') },
        ),
      );
  }
  return told.findings();
}

function noExtra(graph: WorkGraph, work: Work): Duty | null {
  const license = graph.license(work);
  for (const terms of (license === null ? null : alternativesOf(license)) ?? [])
    for (const term of terms)
      for (const duty of choicesOf(term)[0].license.duties) if (duty.kind === 'no-extra-terms') return duty;
  return null;
}
