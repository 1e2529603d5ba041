import type { Mesh } from '../types.ts';

/** How the edges divide by the number and direction of their faces. */
export interface EdgeClasses {
  /** Number of distinct undirected edges. */
  readonly edges: number;
  /** Directed edges that lie on exactly one face, ascending. */
  readonly boundary: Int32Array;
  /** One directed edge for each edge of exactly two faces that run along it in the same direction. */
  readonly flipped: Int32Array;
  /** All directed edges on edges of three or more faces, edge by edge. */
  readonly crowded: Int32Array;
  /** N+1: the directed edges of the i-th such edge are `crowded[crowdStarts[i] … crowdStarts[i+1])`. */
  readonly crowdStarts: Int32Array;
  /** True when on every edge as many faces run one way as the other, edges of many faces included. */
  readonly closedCycle: boolean;
}

/**
 * Classifies the directed edges that did not pair one to one (`twins[h] < 0`, `count` of them, face not collapsed):
 * alone, two in the same direction (these become twins), or three and more. All `twins` of the others become −1.
 */
export function classifyLeftovers(mesh: Mesh, twins: Int32Array, count: number): EdgeClasses {
  if (count === 0) {
    const none = new Int32Array(0);
    return {
      edges: 0,
      boundary: none,
      flipped: none,
      crowded: none,
      crowdStarts: new Int32Array(1),
      closedCycle: true,
    };
  }
  const { triangles } = mesh;
  const vertexCount = mesh.positions.length / 3;
  const left = collect(triangles, twins, count);
  sortByEnds(left, triangles, vertexCount);

  const boundary: number[] = [];
  const flipped: number[] = [];
  const crowded: number[] = [];
  const crowdStarts = [0];
  let closedCycle = true;
  let edges = 0;
  for (let i = 0; i < count;) {
    const h = left[i];
    let end = i + 1;
    let net = direction(triangles, h);
    while (end < count && sameEnds(triangles, h, left[end])) net += direction(triangles, left[end++]);
    edges++;
    if (net !== 0) closedCycle = false;
    if (end - i === 1) boundary.push(h);
    else if (end - i === 2) {
      twins[h] = left[i + 1];
      twins[left[i + 1]] = h;
      flipped.push(h);
    } else {
      for (let k = i; k < end; k++) crowded.push(left[k]);
      crowdStarts.push(crowded.length);
    }
    i = end;
  }
  return {
    edges,
    boundary: ascending(boundary),
    flipped: ascending(flipped),
    crowded: Int32Array.from(crowded),
    crowdStarts: Int32Array.from(crowdStarts),
    closedCycle,
  };
}

function collect(triangles: Uint32Array, twins: Int32Array, count: number): Int32Array {
  const left = new Int32Array(count);
  let n = 0;
  for (let base = 0; base < triangles.length; base += 3) {
    if (twins[base] >= 0 && twins[base + 1] >= 0 && twins[base + 2] >= 0) continue;
    const a = triangles[base];
    const b = triangles[base + 1];
    const c = triangles[base + 2];
    if (a === b || b === c || c === a) continue;
    for (let h = base; h < base + 3; h++) {
      if (twins[h] >= 0) continue;
      twins[h] = -1;
      left[n++] = h;
    }
  }
  return left;
}

/** Sorts directed edges by their lower vertex, then their higher one, then themselves; they come in ascending. */
function sortByEnds(left: Int32Array, triangles: Uint32Array, vertexCount: number): void {
  const lower = (h: number) => Math.min(triangles[h], headOf(triangles, h));
  const higher = (h: number) => Math.max(triangles[h], headOf(triangles, h));
  // Counted two places ahead, so that filling moves the starts into their final places.
  const starts = new Int32Array(vertexCount + 2);
  for (let i = 0; i < left.length; i++) starts[lower(left[i]) + 2]++;
  for (let v = 2; v < starts.length; v++) starts[v] += starts[v - 1];
  const filed = new Int32Array(left.length);
  for (let i = 0; i < left.length; i++) filed[starts[lower(left[i]) + 1]++] = left[i];
  for (let v = 0; v < vertexCount; v++) {
    const from = starts[v];
    const to = starts[v + 1];
    if (to - from === 2 && higher(filed[from]) > higher(filed[from + 1])) {
      const first = filed[from];
      filed[from] = filed[from + 1];
      filed[from + 1] = first;
    } else if (to - from > 2) filed.subarray(from, to).sort((g, h) => higher(g) - higher(h) || g - h);
  }
  left.set(filed);
}

function headOf(triangles: Uint32Array, h: number): number {
  return triangles[h % 3 === 2 ? h - 2 : h + 1];
}

/** +1 for an edge that runs from its lower to its higher vertex, else −1. */
function direction(triangles: Uint32Array, h: number): number {
  return triangles[h] < headOf(triangles, h) ? 1 : -1;
}

function sameEnds(triangles: Uint32Array, g: number, h: number): boolean {
  const a = triangles[g];
  const b = headOf(triangles, g);
  const c = triangles[h];
  const d = headOf(triangles, h);
  return (a === c && b === d) || (a === d && b === c);
}

function ascending(values: readonly number[]): Int32Array {
  return Int32Array.from(values).sort();
}
