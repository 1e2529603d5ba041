import type { DeriveReport, StartReport } from '@kinprint/registry';
import { paints, type Style, wrap } from '../terminal/layout.ts';
import { clean, plural } from '../terminal/words.ts';

/** What `kinprint start` made, for a terminal. */
export function startText(report: StartReport, style: Style): string {
  const paint = paints(style);
  const lines = [paint.bold(clean(report.root))];
  lines.push(...report.made.map(file => `  made  ${clean(file)}`));
  lines.push(...report.kept.map(file => `  ${paint.dim(`kept  ${clean(file)}`)}`));
  const repository = {
    made: 'A git repository was made for it.',
    found: 'It lies in a git repository already.',
    'no-git': 'git was not found: install it and run git init here, so that revisions can be recorded.',
  }[report.repository];
  const next =
    report.made.length === 0
      ? 'Everything was there already; nothing was changed.'
      : 'Next: add devices (devices/README.md says how), then run kinprint check and kinprint record.';
  for (const text of [repository, ...report.notes, next]) lines.push('', ...wrap(clean(text), style.columns));
  return lines.join('\n');
}

/** What `kinprint derive` made, for a terminal. */
export function deriveText(report: DeriveReport, style: Style): string {
  const paint = paints(style);
  const parents = report.parents.map(parent => parent.address).join(' and ');
  const lines = wrap(`${paint.bold(clean(report.address))} derived from ${clean(parents)}`, style.columns);
  lines.push(`  ${plural(report.parts, 'part')}, ${plural(report.files, 'file')} in ${clean(report.folder)}`);
  if (report.unsettled.length > 0) {
    lines.push('', 'To settle:');
    for (const text of report.unsettled)
      wrap(clean(text), style.columns - 4).forEach((line, k) =>
        lines.push(`${k === 0 ? '  - ' : '    '}${line}`),
      );
  }
  lines.push(
    '',
    ...wrap(`Then: kinprint check ${report.address}, kinprint record ${report.address}`, style.columns),
  );
  return lines.join('\n');
}
