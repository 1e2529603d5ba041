import type { AuditFinding, AuditReport, Credits, UseAnswer } from '@kinprint/license';
import type { FindingPlace, PlacedWork } from '@kinprint/registry';
import { creditsLabel } from '../credits/credits-plain.ts';
import { plural } from '../terminal/words.ts';

/** `utensil-cuff/left@A, a mirror of utensil-cuff/right@B, a remix of …`. */
export function pathWords({ work, path }: AuditFinding): string | null {
  if (path.length === 0) return null;
  const steps = path.map(({ relation, to }) =>
    relation === 'revision' ? `the letter after ${to}` : `a ${relation} of ${to}`,
  );
  return [work, ...steps].join(', ');
}

/** `devices/cuff/left/variant.yaml:12:3`; null where it is about no manifest that lies there now. */
export function placeWords({ file, line, column }: FindingPlace): string | null {
  return file === null ? null : [file, line, column].filter(each => each !== null).join(':');
}

/** `a, b and 188 more`: the first few of the works of which the same holds; null for none. JSON names them all. */
export function alsoWords({ also }: AuditFinding): string | null {
  if (also.length === 0) return null;
  const more = also.length - alsoShown;
  return more < 2 ? also.join(', ') : `${also.slice(0, alsoShown).join(', ')} and ${more} more`;
}

const alsoShown = 12;

export function ruleWords({ basis }: AuditFinding): string | null {
  if (basis === null) return null;
  const sure = { read: '', derived: '; follows from it', memory: '; from memory, not looked up' }[basis.sure];
  return `${basis.clause} (${basis.source}${sure})`;
}

export const severityWords = {
  error: 'error',
  warning: 'warning',
  ask: 'ask a person',
  note: 'note',
} as const;

/** `2 errors, 1 question and 3 notes in 10 works.` */
export function auditTotal({ counts, works }: AuditReport): string {
  const words = [
    counts.error > 0 ? plural(counts.error, 'error') : '',
    counts.ask > 0 ? plural(counts.ask, 'question for a person', 'questions for a person') : '',
    counts.warning > 0 ? plural(counts.warning, 'warning') : '',
    counts.note > 0 ? plural(counts.note, 'note') : '',
  ].filter(Boolean);
  const said =
    words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1) ?? ''}`;
  return `${said === '' ? 'No findings' : said} in ${plural(works.length, 'variant')}.`;
}

const useWords = {
  personal: 'Use at home',
  clinic: 'Handing out by a clinic',
  sale: 'Selling',
  class: 'Making in a class',
} as const;

/** `Selling of cuff/left@A: yes, if the following is done.` The licenses decide; what is broken already is said. */
export function useHeadline({ use, findings }: Pick<PlacedWork, 'use' | 'findings'>): string {
  if (use === null) return '';
  const errors = findings.filter(({ severity }) => severity === 'error').length;
  const allowed = use.answer === 'permitted' || use.answer === 'not-recommended';
  const until =
    errors > 0 && allowed
      ? `, once ${plural(errors, 'error')} below ${errors === 1 ? 'is' : 'are'} mended`
      : '';
  return `${useWords[use.use]} of ${use.work}: ${answerWords(use)}${until}.`;
}

function answerWords({ answer, duties }: UseAnswer): string {
  switch (answer) {
    case 'permitted':
      return duties.length === 0 ? 'yes' : 'yes, if the following is done';
    case 'not-recommended':
      return 'yes, with something to mind';
    case 'ask':
      return 'ask a person';
    case 'not-permitted':
      return 'no';
  }
}

/** The text for the printed card, as `credits --format label` writes it; null where none was asked for. */
export function cardText(credits: Credits | null): string | null {
  return credits === null ? null : creditsLabel(credits);
}
