/**
 * A license expression (SPDX specification 2.3, annex D), as a tree. Ids are written as in the SPDX license list; ids out
 * of use have been replaced where their meaning is known (`GPL-2.0+` by `GPL-2.0-or-later`).
 */
export type Expression = Term | Group;

/** One license, with what is attached to it. */
export interface Term {
  readonly kind: 'license';
  /** An id of the SPDX license list, `LicenseRef-…` or `DocumentRef-…:LicenseRef-…`. */
  readonly id: string;
  /** `+`: this version or any later one. */
  readonly orLater: boolean;
  /** The exception after WITH; null where there is none. */
  readonly exception: string | null;
}

/** All of its members apply at once, or the recipient chooses one. At least two members. */
export interface Group {
  readonly kind: 'and' | 'or';
  readonly members: readonly Expression[];
}

/** Writes an expression again, with parentheses only where they are needed. */
export function expressionText(expression: Expression): string {
  if (expression.kind === 'license') return termText(expression);
  const joined = expression.members.map(member =>
    expression.kind === 'and' && member.kind === 'or'
      ? `(${expressionText(member)})`
      : expressionText(member),
  );
  return joined.join(expression.kind === 'and' ? ' AND ' : ' OR ');
}

export function termText({ id, orLater, exception }: Term): string {
  return `${id}${orLater ? '+' : ''}${exception === null ? '' : ` WITH ${exception}`}`;
}

/** Every license that is named, each once, in the order of the text. */
export function termsOf(expression: Expression): Term[] {
  if (expression.kind === 'license') return [expression];
  const seen = new Map<string, Term>();
  for (const member of expression.members)
    for (const term of termsOf(member)) if (!seen.has(termText(term))) seen.set(termText(term), term);
  return [...seen.values()];
}
