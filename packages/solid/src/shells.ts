import { pairEdges, type Mesh } from '@kinprint/mesh';

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
  const { twins, closedCycle, nonmanifold } = pairEdges(mesh);
  const parent = new Uint32Array(twins.length / 3);
  for (let f = 0; f < parent.length; f++) parent[f] = f;
  for (let h = 0; h < twins.length; h++) {
    const twin = twins[h];
    if (twin > h) unite(parent, (h / 3) | 0, (twin / 3) | 0);
  }
  if (nonmanifold.length > 0) joinCrowdedEdges(mesh, twins, parent);
  return { closed: closedCycle, ...label(parent) };
}

/** Joins faces at edges of many faces until every piece is closed by itself, wherever the whole is. */
function joinCrowdedEdges({ triangles }: Mesh, twins: Int32Array, parent: Uint32Array): void {
  const crowded = new Map<string, { face: number; sign: number }[]>();
  for (let h = 0; h < twins.length; h++) {
    if (twins[h] >= 0) continue;
    const tail = triangles[h];
    const head = triangles[h % 3 === 2 ? h - 2 : h + 1];
    if (tail === head) continue;
    const key = tail < head ? `${tail} ${head}` : `${head} ${tail}`;
    const fan = crowded.get(key) ?? [];
    fan.push({ face: (h / 3) | 0, sign: tail < head ? 1 : -1 });
    crowded.set(key, fan);
  }
  for (let again = true; again;) {
    again = false;
    for (const fan of crowded.values()) {
      const balance = new Map<number, number>();
      for (const { face, sign } of fan) {
        const root = find(parent, face);
        balance.set(root, (balance.get(root) ?? 0) + sign);
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
