import { termText, type Expression, type Term } from './tree.ts';

/** Licenses that apply all at once. */
export type Alternative = readonly Term[];

/** An expression with more alternatives than this is one that no person has weighed. Common practice, no source. */
export const mostAlternatives = 64;

/**
 * What a recipient may choose from: each alternative is a set of licenses that apply together. `(A OR B) AND C` gives
 * `A, C` and `B, C`. Repeats are dropped, the order is that of the text.
 *
 * @returns null where there are more than `mostAlternatives`
 */
export function alternativesOf(expression: Expression): readonly Alternative[] | null {
  if (expression.kind === 'license') return [[expression]];
  if (expression.kind === 'or') {
    const all: Alternative[] = [];
    for (const member of expression.members) {
      const of = alternativesOf(member);
      if (of === null) return null;
      all.push(...of);
    }
    return bounded(all);
  }
  let product: readonly Alternative[] | null = [[]];
  for (const member of expression.members) {
    const of = alternativesOf(member);
    if (of === null || product === null || product.length * of.length > mostAlternatives ** 2) return null;
    product = bounded(product.flatMap(left => of.map(right => [...left, ...right])));
  }
  return product;
}

function bounded(all: readonly Alternative[]): readonly Alternative[] | null {
  const seen = new Map<string, Alternative>();
  for (const alternative of all) {
    const terms = new Map(alternative.map(term => [termText(term), term]));
    const key = [...terms.keys()].sort().join(' AND ');
    if (!seen.has(key)) seen.set(key, [...terms.values()]);
  }
  return seen.size > mostAlternatives ? null : [...seen.values()];
}
