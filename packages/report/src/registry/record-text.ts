import type { RecordOutcome, RefusalFinding } from '@kinprint/registry';
import { paints, type Style, wrap } from '../terminal/layout.ts';
import { clean, plural } from '../terminal/words.ts';

/** What came of a recording, for a terminal. */
export function recordText(outcome: RecordOutcome, style: Style): string {
  const paint = paints(style);
  switch (outcome.kind) {
    case 'unchanged':
      return `${clean(outcome.address)}: nothing changed since ${outcome.entry.letter}; nothing to record.`;
    case 'refused': {
      const errors = outcome.findings.filter(finding => finding.severity === 'error');
      const head = `${clean(outcome.address)} was not recorded: ${plural(errors.length, 'error')} must be settled first.`;
      return [...wrap(head, style.columns), ...errors.flatMap(finding => findingLines(finding, style))].join(
        '\n',
      );
    }
    case 'completed':
      return [
        ...wrap(`${clean(outcome.address)}: revision ${outcome.entry.letter} is now whole.`, style.columns),
        ...noteLines(outcome.notes, style),
      ].join('\n');
    case 'recorded':
    case 'dry-run': {
      const { letter, date, by, changes, digest } = outcome.entry;
      const verb = outcome.kind === 'recorded' ? 'recorded as' : 'would be recorded as';
      return [
        paint.bold(`${clean(outcome.address)} ${verb} ${letter}`),
        paint.dim(clean(`${date}${by === undefined ? '' : `, by ${by}`}`)),
        ...(changes ?? []).flatMap(change =>
          wrap(clean(change), style.columns - 4).map((line, k) => `${k === 0 ? '  ' : '    '}${line}`),
        ),
        ...(changes === undefined ? ['  the first revision'] : []),
        ...wrap(paint.dim(`digest ${digest}`), style.columns),
        ...(outcome.commit === null ? [] : [paint.dim(`commit ${outcome.commit}`)]),
        ...noteLines(outcome.notes, style),
      ].join('\n');
    }
  }
}

function findingLines(finding: RefusalFinding, style: Style): string[] {
  const paint = paints(style);
  const place = [finding.file, finding.line, finding.column].filter(part => part !== null);
  return [
    `  ${paint.red('error')}  ${clean(place.join(':'))}`,
    ...wrap(clean(finding.text), style.columns - 4).map(line => `    ${line}`),
    ...wrap(clean(finding.remedy), style.columns - 4).map(line => `    ${paint.dim(line)}`),
  ];
}

function noteLines(notes: readonly string[], style: Style): string[] {
  return notes.flatMap(note => wrap(clean(`note: ${note}`), style.columns));
}
