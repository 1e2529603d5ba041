import { pairEdges, type EdgePairs, type Mesh } from '@kinprint/mesh';

/** The connected pieces of a surface, by faces that share an edge. */
export interface Shells {
  /** The directions of the faces cancel on every edge, so the surface encloses a volume. */
  readonly closed: boolean;
  readonly count: number;
  /** Per face: index of its shell, in order of first appearance. */
  readonly shellOf: Uint32Array;
}

/**
 * Finds shells and tells whether the surface is a closed cycle. Time and memory linear in the faces.
 *
 * A face with a repeated vertex forms a shell of its own; drop such faces first. At an edge with four or more faces
 * (two shells that touch along it) faces are joined only where a shell would otherwise stay open.
 */
export function findShells(mesh: Mesh): Shells {
  const pairs = pairEdges(mesh);
  const { twins } = pairs;
  const parent = new Uint32Array(twins.length / 3);
  for (let f = 0; f < parent.length; f++) parent[f] = f;
  for (let h = 0; h < twins.length; h++) {
    const twin = twins[h];
    if (twin > h) unite(parent, (h / 3) | 0, (twin / 3) | 0);
  }
  if (pairs.crowded.length > 0) joinCrowdedEdges(mesh, pairs, parent);
  return { closed: pairs.closedCycle, ...label(parent) };
}

/** Joins faces at edges of many faces until every piece is closed by itself, wherever the whole is. */
function joinCrowdedEdges(
  { triangles }: Mesh,
  { crowded, crowdStarts }: EdgePairs,
  parent: Uint32Array,
): void {
  for (let again = true; again;) {
    again = false;
    for (let i = 0; i + 1 < crowdStarts.length; i++) {
      const balance = new Map<number, number>();
      for (const h of crowded.subarray(crowdStarts[i], crowdStarts[i + 1])) {
        const root = find(parent, (h / 3) | 0);
        const rising = triangles[h] < triangles[h % 3 === 2 ? h - 2 : h + 1];
        balance.set(root, (balance.get(root) ?? 0) + (rising ? 1 : -1));
      }
      const open = [...balance].filter(([, sum]) => sum !== 0).map(([root]) => root);
      for (const root of open.slice(1)) {
        unite(parent, open[0], root);
        again = true;
      }
    }
  }
}

function label(parent: Uint32Array): { count: number; shellOf: Uint32Array } {
  const shellOf = new Uint32Array(parent.length);
  let count = 0;
  // A root is the lowest face of its shell, so it is numbered before any other face of it.
  for (let f = 0; f < parent.length; f++) {
    const root = find(parent, f);
    shellOf[f] = root === f ? count++ : shellOf[root];
  }
  return { count, shellOf };
}

function find(parent: Uint32Array, item: number): number {
  let at = item;
  for (let up = parent[at]; up !== at; up = parent[at]) {
    parent[at] = parent[up];
    at = parent[at];
  }
  return at;
}

function unite(parent: Uint32Array, a: number, b: number): void {
  const p = find(parent, a);
  const q = find(parent, b);
  if (p < q) parent[q] = p;
  else parent[p] = q;
}
