import type { Descent, Relation, Work, Works } from './works.ts';

/** A work for tests: everything known, nothing said but what is given. */
export function work(
  id: string,
  license: string | null,
  names: readonly string[],
  more: Partial<Work> = {},
): Work {
  return {
    id,
    title: id,
    license,
    authors: names.map(name => ({ name })),
    parts: [],
    known: true,
    date: null,
    url: null,
    ...more,
  };
}

export function descent(from: string, to: string, relation: Relation, more: Partial<Descent> = {}): Descent {
  return { from, to, relation, changes: 'Made wider.', ...more };
}

/** Each work came from the next by the same relation: `chain(['a', 'b'])` says that a came from b. */
export function chain(works: readonly Work[], relation: Relation = 'remix'): Works {
  return { works, descents: works.slice(1).map((older, k) => descent(works[k].id, older.id, relation)) };
}
