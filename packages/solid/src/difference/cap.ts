import type { Kernel } from '../kernel.ts';
import type { Cut } from './cut-planes.ts';
import type { PieceBuilder } from './piece.ts';

/** An edge of the opening that a cut leaves, directed as the cap needs it. */
export interface CapEdge {
  readonly from: number;
  readonly to: number;
  readonly group: number;
}

/**
 * Closes the openings that a cut left with flat faces, group by group. Every edge is used once, in its direction, so
 * the result is closed whatever the shape of the opening.
 */
export function addCap(kernel: Kernel, out: PieceBuilder, edges: readonly CapEdge[], cut: Cut): void {
  const byGroup = new Map<number, CapEdge[]>();
  for (const edge of edges) {
    const list = byGroup.get(edge.group);
    if (list === undefined) byGroup.set(edge.group, [edge]);
    else list.push(edge);
  }
  // Axes in the plane such that the cap's outside looks towards us: it points away from what was kept.
  const next = (cut.axis + 1) % 3;
  const last = (cut.axis + 2) % 3;
  const [u, v] = cut.keep === 'below' ? [next, last] : [last, next];
  for (const [group, list] of byGroup) {
    const loops = inOrder(
      out,
      loopsOf(list).filter(loop => loop.length > 2),
    );
    if (loops.length === 0) continue;
    const at = (vertex: number): [number, number] => [out.coordinate(vertex, u), out.coordinate(vertex, v)];
    const thin = loops.filter(loop => isThin(loop.map(at)));
    const wide = loops.filter(loop => !thin.includes(loop));
    for (const together of [wide, ...thin.map(loop => [loop])]) fill(kernel, out, together, at, group);
  }
}

/**
 * The same loops, each from its first vertex by place, sorted by that: openings of two meshes that are equal bit for
 * bit get the same cap, and caps that coincide leave no films.
 */
function inOrder(out: PieceBuilder, loops: readonly (readonly number[])[]): readonly (readonly number[])[] {
  const byPlace = (p: number, q: number): number =>
    out.coordinate(p, 0) - out.coordinate(q, 0) ||
    out.coordinate(p, 1) - out.coordinate(q, 1) ||
    out.coordinate(p, 2) - out.coordinate(q, 2);
  return loops
    .map(loop => {
      let first = 0;
      loop.forEach((vertex, i) => {
        if (byPlace(vertex, loop[first]) < 0) first = i;
      });
      return [...loop.slice(first), ...loop.slice(0, first)];
    })
    .sort((p, q) => byPlace(p[0], q[0]));
}

function fill(
  kernel: Kernel,
  out: PieceBuilder,
  loops: readonly (readonly number[])[],
  at: (vertex: number) => [number, number],
  group: number,
): void {
  const corners = loops.flat();
  if (corners.length === 0) return;
  const [u0, v0] = at(corners[0]);
  const polygons = loops.map(loop =>
    loop.map((vertex): [number, number] => {
      const [u, v] = at(vertex);
      return [u - u0, v - v0];
    }),
  );
  for (const [a, b, c] of kernel.api.triangulate(polygons)) {
    out.addFace(corners[a], corners[b], corners[c], group);
  }
}

/**
 * Whether a loop is a mere line: two films, cut across, may look like outline and hole to the triangulation, which
 * then spans the space between them. A line closed by itself spans nothing.
 */
function isThin(loop: readonly (readonly [number, number])[]): boolean {
  let area = 0;
  let around = 0;
  const [u0, v0] = loop[0];
  loop.forEach(([u, v], i) => {
    const [nextU, nextV] = loop[(i + 1) % loop.length];
    area += ((u - u0) * (nextV - v0) - (nextU - u0) * (v - v0)) / 2;
    around += Math.hypot(nextU - u, nextV - v);
  });
  return Math.abs(area) < thinLoop * around * around;
}

/** Area over the square of the length of a line-like loop; a film is a millionth as thick as it is long. */
const thinLoop = 1e-5;

/** Chains directed edges into closed loops; at a vertex that several loops pass, any continuation will do. */
export function loopsOf(edges: readonly Pick<CapEdge, 'from' | 'to'>[]): readonly (readonly number[])[] {
  const leaving = new Map<number, number[]>();
  for (const { from, to } of edges) {
    const list = leaving.get(from);
    if (list === undefined) leaving.set(from, [to]);
    else list.push(to);
  }
  const loops: number[][] = [];
  for (const start of leaving.keys()) {
    for (let at = leaving.get(start)?.pop(); at !== undefined; at = leaving.get(start)?.pop()) {
      const loop = [start];
      while (at !== undefined && at !== start) {
        loop.push(at);
        at = leaving.get(at)?.pop();
      }
      loops.push(loop);
    }
  }
  return loops;
}
