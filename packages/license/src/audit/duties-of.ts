import { alternativesOf } from '../expression/alternatives.ts';
import { termText, type Expression } from '../expression/tree.ts';
import { choicesOf } from '../rules/choices.ts';
import type { Duty, DutyKind, DutyWhen } from '../rules/types.ts';

/** The duties of an alternative: those of all its licenses, of the oldest version that may be chosen. */
export function dutiesOf(expression: Expression, chosen: string): readonly Duty[] {
  const all = alternativesOf(expression) ?? [];
  const alternative = all.find(terms => terms.map(termText).join(' AND ') === chosen) ?? all.at(0) ?? [];
  return alternative.flatMap(term => choicesOf(term)[0].license.duties);
}

/**
 * The duty of that kind which nobody can choose to be without: every alternative has one. Null where one does not, or
 * where there is only custom.
 */
export function unavoidable(expression: Expression, kind: DutyKind, when: readonly DutyWhen[]): Duty | null {
  let found: Duty | null = null;
  for (const terms of alternativesOf(expression) ?? []) {
    const duty = terms
      .flatMap(term => choicesOf(term)[0].license.duties)
      .find(d => d.kind === kind && d.required && when.includes(d.when));
    if (duty === undefined) return null;
    found ??= duty;
  }
  return found;
}
