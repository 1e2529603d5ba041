import { nextEdge } from './corners.ts';
import { rootOf, singletons, unite } from './disjoint-sets.ts';
import type { EdgePairs } from './edge-pairs.ts';
import { borderAround } from './fans.ts';

/**
 * The loops that the boundary edges form, each as one of its directed edges (the lowest), ascending.
 *
 * A loop goes on at a vertex around the fan of faces that it borders, so two holes that touch at a vertex form one
 * loop, shaped like an 8. Where it runs into an edge of three or more faces, it goes on along whatever else ends at
 * that vertex in the same way.
 */
export function boundaryLoops(triangles: Uint32Array, pairs: EdgePairs): readonly number[] {
  const { boundary, twins } = pairs;
  if (boundary.length === 0) return [];
  /** Place of each boundary edge in the list, counted from 1. */
  const place = new Int32Array(triangles.length);
  for (let i = 0; i < boundary.length; i++) place[boundary[i]] = i + 1;
  const parent = singletons(boundary.length);
  const looseAt = new Map<number, number>();
  for (let i = 0; i < boundary.length; i++) {
    const h = boundary[i];
    for (let end = 0; end < 2; end++) {
      const vertex = triangles[end === 0 ? h : nextEdge(h)];
      const next = place[borderAround(h, vertex, triangles, twins)];
      if (next > 0) {
        unite(parent, i, next - 1);
        continue;
      }
      const loose = looseAt.get(vertex);
      if (loose === undefined) looseAt.set(vertex, i);
      else unite(parent, i, loose);
    }
  }
  const firsts: number[] = [];
  for (let i = 0; i < boundary.length; i++) if (rootOf(parent, i) === i) firsts.push(boundary[i]);
  return firsts;
}
