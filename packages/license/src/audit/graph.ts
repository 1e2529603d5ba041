import { parseExpression } from '../expression/parse.ts';
import type { Expression } from '../expression/tree.ts';
import { reserved } from '../rules/find-license.ts';
import type { Descent, Work, Works } from './works.ts';

/** Works by id, with their licenses read once. */
export interface WorkGraph {
  readonly works: ReadonlyMap<string, Work>;
  /** What each work came from, by its id. */
  readonly older: ReadonlyMap<string, readonly Descent[]>;
  /** The license of a work. Where none is stated all rights are reserved; null where it cannot be read. */
  license(work: Pick<Work, 'license'>): Expression | null;
}

const none: Expression = { kind: 'license', id: reserved.id, orLater: false, exception: null };

/** Links with an end that is no work are left out. */
export function graphOf({ works, descents }: Works): WorkGraph {
  const byId = new Map(works.map(work => [work.id, work]));
  const older = new Map<string, Descent[]>();
  for (const descent of descents) {
    if (!byId.has(descent.from) || !byId.has(descent.to)) continue;
    const known = older.get(descent.from);
    if (known === undefined) older.set(descent.from, [descent]);
    else known.push(descent);
  }
  const read = new Map<string, Expression | null>();
  return {
    works: byId,
    older,
    license({ license }) {
      if (license === null) return none;
      const before = read.get(license);
      if (before !== undefined) return before;
      const parsed = parseExpression(license, '3.0');
      const expression = parsed.ok ? parsed.expression : null;
      read.set(license, expression);
      return expression;
    },
  };
}
