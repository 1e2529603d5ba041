import type { UseAnswer } from '@kinprint/license';
import type { PlacedFinding, PlacedWork, RegistryAudit } from '@kinprint/registry';
import { paints, type Style, wrap } from '../terminal/layout.ts';
import { clean, plural } from '../terminal/words.ts';
import {
  alsoWords,
  cardText,
  auditTotal,
  pathWords,
  placeWords,
  ruleWords,
  severityWords,
  useHeadline,
} from './audit-words.ts';

/** All findings, variant by variant, the worst of each first, with the way up the lineage; the total last. */
export function auditText(report: RegistryAudit, style: Style): string {
  const lines = report.works.flatMap(work => workLines(work, style));
  lines.push(...wrap(auditTotal(report), style.columns));
  for (const remark of remarks(report)) lines.push(...wrap(clean(remark), style.columns));
  return lines.join('\n');
}

/** What limits the report. */
export function remarks({ guessed, shapes, unread, disclaimer }: RegistryAudit): string[] {
  return [
    ...(guessed.length > 0
      ? [
          `Of ${plural(guessed.length, 'letter')} the manifest could not be had from history; what stands there now was taken: ${guessed.join(', ')}.`,
        ]
      : []),
    ...(shapes ? [] : ['Shapes were not looked at.']),
    ...(unread.length > 0
      ? [
          `The ${unread.length === 1 ? 'shape' : 'shapes'} of ${plural(unread.length, 'part')} could not be looked at: ${unread.map(({ part, problem }) => `${part} (${problem})`).join('; ')}`,
        ]
      : []),
    disclaimer,
  ];
}

function workLines(work: PlacedWork, style: Style): string[] {
  if (work.findings.length === 0 && work.use === null) return [];
  const paint = paints(style);
  return [
    paint.bold(clean(work.id)),
    ...(work.use === null ? [] : useLines(work, work.use, style)),
    ...work.findings.flatMap(finding => findingLines(finding, style)),
    '',
  ];
}

function findingLines(finding: PlacedFinding, style: Style): string[] {
  const paint = paints(style);
  const painted = { error: paint.red, warning: paint.yellow, ask: paint.yellow, note: paint.cyan }[
    finding.severity
  ];
  const part = finding.part === null ? '' : `  part ${clean(finding.part)}`;
  const path = pathWords(finding);
  const rule = ruleWords(finding);
  const place = placeWords(finding);
  const also = alsoWords(finding);
  return [
    `  ${painted(severityWords[finding.severity])}  ${finding.code}${part}`,
    ...(place === null ? [] : indented(`At ${place}`, style).map(line => paint.dim(line))),
    ...indented(finding.text, style),
    ...(path === null ? [] : indented(`Way: ${path}.`, style)),
    ...(also === null ? [] : indented(`Also: ${also}.`, style)),
    ...(rule === null ? [] : indented(`Rule: ${rule}.`, style)),
    ...indented(finding.remedy, style).map(line => paint.dim(line)),
  ];
}

/** The answer first, why, what to do, each once, and what to print on the card. */
function useLines(work: PlacedWork, use: UseAnswer, style: Style): string[] {
  const paint = paints(style);
  const color =
    use.answer === 'permitted' ? paint.green : use.answer === 'not-permitted' ? paint.red : paint.yellow;
  const card = cardText(work.credits);
  return [
    ...wrap(clean(useHeadline(work)), style.columns - 2).map(line => `  ${color(line)}`),
    ...use.reasons.flatMap(({ work: id, license, why, clause, source }) =>
      indented(`${id} (${license}): ${why} Rule: ${clause} (${source}).`, style),
    ),
    ...use.duties.flatMap(({ text, basis }) =>
      indented(`${text} Rule: ${basis.clause}.`, style).map((line, k) =>
        k === 0 ? line.replace('    ', '  - ') : line,
      ),
    ),
    ...(card === null ? [] : ['  On the card:', ...card.split('\n').map(line => `    ${line}`)]),
  ];
}

function indented(text: string, style: Style): string[] {
  return wrap(clean(text), style.columns - 4).map(line => `    ${line}`);
}
