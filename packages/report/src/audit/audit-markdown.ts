import type { PlacedFinding, RegistryAudit } from '@kinprint/registry';
import { remarks } from './audit-text.ts';
import {
  alsoWords,
  auditTotal,
  pathWords,
  placeWords,
  ruleWords,
  severityWords,
  useHeadline,
} from './audit-words.ts';

/** The audit for a discussion or a page, in Markdown; what people wrote cannot become markup. */
export function auditMarkdown(report: RegistryAudit): string {
  const lines = ['# License audit', '', md(auditTotal(report))];
  for (const { id, use, findings } of report.works) {
    if (use === null && findings.length === 0) continue;
    lines.push('', `## ${md(id)}`, '');
    if (use !== null)
      lines.push(
        `- **${md(useHeadline(use))}**`,
        ...use.reasons.map(
          ({ work, license, why, clause }) => `  - ${md(`${work} (${license}): ${why} Rule: ${clause}.`)}`,
        ),
        ...(use.names.length === 0 ? [] : [`  - ${md(`To be named: ${use.names.join(', ')}.`)}`]),
        ...use.duties.map(({ text, works }) => `  - ${md(`Duty: ${text} For ${works.join(', ')}.`)}`),
      );
    lines.push(...findings.flatMap(item));
  }
  for (const remark of remarks(report)) lines.push('', md(remark));
  return `${lines.join('\n')}\n`;
}

function item(finding: PlacedFinding): string[] {
  const [path, rule, place] = [pathWords(finding), ruleWords(finding), placeWords(finding)];
  const also = alsoWords(finding);
  const part = finding.part === null ? '' : `, part ${md(finding.part)}`;
  return [
    `- **${severityWords[finding.severity]}** \`${finding.code}\`${part}: ${md(finding.text)}`,
    ...(place === null ? [] : [`  - At: ${md(place)}`]),
    ...(path === null ? [] : [`  - Way: ${md(path)}.`]),
    ...(also === null ? [] : [`  - Also: ${md(also)}.`]),
    ...(rule === null ? [] : [`  - Rule: ${md(rule)}.`]),
    `  - To do: ${md(finding.remedy)}`,
  ];
}

function md(text: string): string {
  return text.replace(/\s+/g, ' ').replace(/[\\`*_{}[\]<>#!|~&$]/g, sign => `\\${sign}`);
}
