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
  const key = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const [tail, head] = endsOf(triangles, left[i]);
    key[i] = Math.min(tail, head) * vertexCount + Math.max(tail, head);
  }
  const order = sortedOrder(key);

  const boundary: number[] = [];
  const flipped: number[] = [];
  const crowded: number[] = [];
  const crowdStarts = [0];
  let closedCycle = true;
  let edges = 0;
  for (let i = 0; i < count;) {
    const first = order[i];
    let end = i + 1;
    while (end < count && key[order[end]] === key[first]) end++;
    edges++;
    const h = left[first];
    if (end - i === 1) boundary.push(h);
    else if (end - i === 2) {
      const other = left[order[i + 1]];
      twins[h] = other;
      twins[other] = h;
      flipped.push(h);
    } else {
      for (let k = i; k < end; k++) crowded.push(left[order[k]]);
      crowdStarts.push(crowded.length);
    }
    let net = 0;
    for (let k = i; k < end; k++) {
      const [tail, head] = endsOf(triangles, left[order[k]]);
      net += tail < head ? 1 : -1;
    }
    if (net !== 0) closedCycle = false;
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

function endsOf(triangles: Uint32Array, h: number): [tail: number, head: number] {
  return [triangles[h], triangles[h % 3 === 2 ? h - 2 : h + 1]];
}

/** Indices of `key` in ascending order of key, equal keys by index. */
function sortedOrder(key: Float64Array): Uint32Array {
  const order = new Uint32Array(key.length);
  for (let i = 0; i < order.length; i++) order[i] = i;
  return order.sort((i, j) => key[i] - key[j] || i - j);
}

function ascending(values: readonly number[]): Int32Array {
  return Int32Array.from(values).sort();
}
