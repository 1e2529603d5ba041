import { parseExpression } from '../expression/parse.ts';
import type { Expression } from '../expression/tree.ts';
import { reserved } from '../rules/find-license.ts';
import { linkOf, type Link } from './link.ts';
import type { Work, Works } from './works.ts';

/** Works by id, with their licenses read once. */
export interface WorkGraph {
  readonly works: ReadonlyMap<string, Work>;
  /** What each work came from, by its id. */
  readonly older: ReadonlyMap<string, readonly Link[]>;
  /** The license of a work. Where none is stated all rights are reserved; null where it cannot be read. */
  license(work: Pick<Work, 'license'>): Expression | null;
}

const none: Expression = { kind: 'license', id: reserved.id, orLater: false, exception: null };

/** Links with an end that is no work are left out. */
export function graphOf({ works, descents }: Works): WorkGraph {
  const byId = new Map(works.map(work => [work.id, work]));
  const older = new Map<string, Link[]>();
  for (const descent of descents) {
    const [from, to] = [byId.get(descent.from), byId.get(descent.to)];
    if (from === undefined || to === undefined) continue;
    const link = linkOf(descent, from, to);
    const known = older.get(descent.from);
    if (known === undefined) older.set(descent.from, [link]);
    else known.push(link);
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
