import type { CheckReport, Finding } from '@kinprint/registry';
import { paints, type Style, width, wrap } from '../terminal/layout.ts';
import { clean, plural } from '../terminal/words.ts';

/**
 * All findings, by variant, the worst of each first, with the line they point at; the total last. One line when there
 * is nothing to say.
 */
export function checkText(report: CheckReport, style: Style): string {
  const paint = paints(style);
  const { findings } = report;
  const lines: string[] = [];
  let group: string | null | undefined;
  for (const finding of findings) {
    if (finding.variant !== group) {
      if (group !== undefined) lines.push('');
      group = finding.variant;
      lines.push(paint.bold(group === null ? 'registry' : clean(group)));
    }
    lines.push(...findingLines(finding, style));
  }
  if (findings.length > 0) lines.push('');
  lines.push(...wrap(totalText(report), style.columns));
  return lines.join('\n');
}

/** `2 errors and 1 warning in 8 variants with 31 parts.` */
export function totalText({ counts, variants, parts, shard, whole, findings }: CheckReport): string {
  const words = [
    counts.errors > 0 ? plural(counts.errors, 'error') : '',
    counts.warnings > 0 ? plural(counts.warnings, 'warning') : '',
    counts.notes > 0 ? plural(counts.notes, 'note') : '',
  ].filter(Boolean);
  const said =
    words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1) ?? ''}`;
  const where = `in ${plural(variants, 'variant')} with ${plural(parts, 'part')}`;
  const part =
    shard === null
      ? ''
      : ` Shard ${shard.index} of ${shard.of}${whole ? ', with what concerns the whole registry.' : '; what concerns the whole registry is checked in shard 1.'}`;
  return `${findings.length === 0 ? `No findings ${where}.` : `${said} ${where}.`}${part}`;
}

function findingLines(finding: Finding, style: Style): string[] {
  const paint = paints(style);
  const painted = { error: paint.red, warning: paint.yellow, note: paint.cyan }[finding.severity];
  const place = [finding.file, finding.line, finding.column].filter(part => part !== null).join(':');
  const part = finding.part === null ? '' : `  part ${clean(finding.part)}`;
  const text = wrap(clean(finding.text), style.columns - 4).map(line => `    ${line}`);
  const remedy = wrap(clean(finding.remedy), style.columns - 4).map(line => `    ${paint.dim(line)}`);
  return [
    `  ${painted(finding.severity)}  ${clean(finding.code)}${part}`,
    ...wrap(clean(place), style.columns - 4).map(line => `    ${paint.dim(line)}`),
    ...sourceLines(finding, style),
    ...text,
    ...remedy,
  ];
}

/** The offending line and a caret below the place; of a long line the piece around it. */
function sourceLines({ source, line, column }: Finding, style: Style): string[] {
  if (source === null || line === null || column === null) return [];
  const number = String(line);
  const room = Math.max(20, style.columns - 4 - number.length - 3);
  const at = column - 1;
  const from = at < room * 0.75 ? 0 : Math.max(0, at - Math.floor(room / 2));
  const before = clean(source.slice(from, at));
  const shown = cutTo(before + clean(source.slice(at)), room);
  const gutter = ' '.repeat(number.length);
  const dim = paints(style).dim;
  return [
    `    ${dim(`${number} |`)} ${shown}`.trimEnd(),
    ...(width(before) < room ? [`    ${dim(`${gutter} |`)} ${' '.repeat(width(before))}^`] : []),
  ];
}

function cutTo(text: string, columns: number): string {
  if (width(text) <= columns) return text;
  let used = 0;
  let kept = '';
  for (const character of text) {
    used += width(character);
    if (used >= columns) break;
    kept += character;
  }
  return `${kept}…`;
}
