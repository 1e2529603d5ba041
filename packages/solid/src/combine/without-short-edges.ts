import type { Mesh } from '@kinprint/mesh';

/**
 * A closed surface whose edges shorter than `length_mm` are collapsed: one end moves onto the other, the two faces
 * between vanish.
 *
 * Not where that would pinch the surface (the ends must share exactly the two corners opposite the edge: Dey et al.,
 * "Topology preserving edge contraction", 1999), nor where a face that is wider than `length_mm` would turn over.
 */
export function withoutShortEdges(mesh: Mesh, length_mm: number): Mesh {
  const { positions } = mesh;
  const triangles = mesh.triangles.slice();
  const most = length_mm * length_mm;
  const facesOf = facesAt(positions, triangles, most);
  if (facesOf.size === 0) return mesh;
  const gone = new Uint8Array(triangles.length / 3);
  const queue = [...facesOf.keys()];

  const cornersAround = (v: number): Set<number> => {
    const around = new Set<number>();
    for (const face of facesOf.get(v) ?? [])
      for (let k = 0; k < 3; k++) if (triangles[3 * face + k] !== v) around.add(triangles[3 * face + k]);
    return around;
  };

  /** Moves `from` onto `to`; whether it could. */
  function collapse(from: number, to: number): boolean {
    const [fromFaces, toFaces] = [facesOf.get(from), facesOf.get(to)];
    if (fromFaces === undefined || toFaces === undefined) return false;
    const between = [...fromFaces].filter(face => toFaces.has(face));
    if (between.length !== 2) return false;
    const near = cornersAround(to);
    if ([...cornersAround(from)].filter(v => near.has(v)).length !== 2) return false;
    const rest = [...fromFaces].filter(face => !toFaces.has(face));
    if (rest.some(face => turns(positions, triangles, face, from, to, most))) return false;
    for (const face of between) {
      gone[face] = 1;
      for (let k = 0; k < 3; k++) facesOf.get(triangles[3 * face + k])?.delete(face);
    }
    for (const face of rest) {
      for (let k = 0; k < 3; k++) if (triangles[3 * face + k] === from) triangles[3 * face + k] = to;
      toFaces.add(face);
    }
    facesOf.delete(from);
    return true;
  }

  for (let v = queue.pop(); v !== undefined; v = queue.pop()) {
    for (const other of cornersAround(v)) {
      if (!facesOf.has(other) || distanceSq(positions, v, other) >= most) continue;
      // The one that came first stays, so that the base's corners do rather than new ones.
      const [from, to] = v > other ? [v, other] : [other, v];
      if (!collapse(from, to)) continue;
      queue.push(to);
      break;
    }
  }
  const kept: number[] = [];
  gone.forEach((flag, face) => {
    if (flag === 0) kept.push(...triangles.subarray(3 * face, 3 * face + 3));
  });
  return { positions, triangles: Uint32Array.from(kept) };
}

/** The faces at every end of a short edge. */
function facesAt(positions: Positions, triangles: Uint32Array, most: number): Map<number, Set<number>> {
  const ends = new Map<number, Set<number>>();
  for (let h = 0; h < triangles.length; h++) {
    const to = triangles[h % 3 === 2 ? h - 2 : h + 1];
    if (distanceSq(positions, triangles[h], to) >= most) continue;
    ends.set(triangles[h], new Set()).set(to, new Set());
  }
  if (ends.size > 0) triangles.forEach((v, h) => ends.get(v)?.add((h / 3) | 0));
  return ends;
}

type Positions = Mesh['positions'];

function distanceSq(p: Positions, u: number, v: number): number {
  return (p[3 * u] - p[3 * v]) ** 2 + (p[3 * u + 1] - p[3 * v + 1]) ** 2 + (p[3 * u + 2] - p[3 * v + 2]) ** 2;
}

/** Whether a face turns over when a corner moves; one narrower than the length has no side to keep. */
function turns(
  p: Positions,
  triangles: Uint32Array,
  face: number,
  from: number,
  to: number,
  most: number,
): boolean {
  const corners = [0, 1, 2].map(k => triangles[3 * face + k]);
  const was = normal(p, corners);
  const is = normal(
    p,
    corners.map(v => (v === from ? to : v)),
  );
  const longest = Math.max(...[0, 1, 2].map(k => distanceSq(p, corners[k], corners[(k + 1) % 3])));
  const narrow = was.reduce((sum, x) => sum + x * x, 0) < most * longest;
  return !narrow && was[0] * is[0] + was[1] * is[1] + was[2] * is[2] <= 0;
}

function normal(p: Positions, [a, b, c]: readonly number[]): readonly [number, number, number] {
  const u = [0, 1, 2].map(k => p[3 * b + k] - p[3 * a + k]);
  const v = [0, 1, 2].map(k => p[3 * c + k] - p[3 * a + k]);
  return [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
}
