import { describe, expect, it } from 'vitest';
import { graphOf } from '../testing/lineage-graphs.ts';
import { declaredFrom } from './declared.ts';

describe('declaredFrom', () => {
  // Newer on the left: b and c came from a, d from b; e from f has nothing to do with them.
  const graph = graphOf([
    ['b', 'a'],
    ['c', 'a'],
    ['d', 'b'],
    ['e', 'f'],
  ]);

  it('tells older, newer, side by side and nothing', () => {
    const declared = declaredFrom(graph, 'b');
    expect(['a', 'b', 'c', 'd', 'e', 'f'].map(declared)).toEqual([
      'ancestor',
      'same-variant',
      'common-ancestor',
      'descendant',
      'not-declared',
      'not-declared',
    ]);
  });

  it('puts letters of one address together', () => {
    const node = (address: string, letter: string) => ({
      ...graph.nodes[0],
      id: `${address}@${letter}`,
      address,
      letter,
    });
    const edge = (from: string, to: string) => ({ ...graph.edges[0], from, to });
    const letters = {
      nodes: [node('x', 'A'), node('x', 'B'), node('y', 'A')],
      edges: [edge('x@B', 'x@A'), edge('y@A', 'x@A')],
    };
    expect(declaredFrom(letters, 'y')('x')).toBe('ancestor');
    expect(declaredFrom(letters, 'x')('y')).toBe('descendant');
    expect(declaredFrom(letters, 'x')('nowhere')).toBe('not-declared');
  });
});
