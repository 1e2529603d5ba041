import type { PlacedFinding, PlacedWork, RegistryAudit } from '@kinprint/registry';
import { md } from '../markdown/md.ts';
import { remarks } from './audit-text.ts';
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

/** The audit for a discussion or a page, in Markdown; what people wrote cannot become markup. */
export function auditMarkdown(report: RegistryAudit): string {
  const lines = ['# License audit', '', md(auditTotal(report))];
  for (const work of report.works) {
    const { id, use, findings } = work;
    if (use === null && findings.length === 0) continue;
    lines.push('', `## ${md(id)}`, '');
    if (use !== null)
      lines.push(
        `- **${md(useHeadline(work))}**`,
        ...use.reasons.map(
          ({ work: of, license, why, clause }) => `  - ${md(`${of} (${license}): ${why} Rule: ${clause}.`)}`,
        ),
        ...use.duties.map(({ text, basis }) => `  - ${md(`To do: ${text} Rule: ${basis.clause}.`)}`),
        ...cardLines(work),
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

/** The card as it is printed, line by line. */
function cardLines({ credits }: PlacedWork): string[] {
  const card = cardText(credits);
  if (card === null) return [];
  return [
    '  - On the card:',
    '',
    ...card.split('\n').map((line, k, all) => `    ${md(line)}${k + 1 < all.length ? '\\' : ''}`),
    '',
  ];
}
