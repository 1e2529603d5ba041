/** Per face of each mesh: 1 when the other mesh does not have it. */
export interface UnmatchedFaces {
  readonly before: Uint8Array;
  readonly after: Uint8Array;
}

/**
 * Pairs faces with the same three vertices in the same turning direction, each at most once.
 *
 * `partner` gives for each vertex of `before` the vertex of `after` that it is, or −1. What stays unpaired is, with
 * the faces of `before` reversed, a closed cycle of itself whenever both meshes are closed. Time linear in the faces.
 */
export function matchFaces(
  before: Uint32Array,
  after: Uint32Array,
  partner: Int32Array,
  afterVertices: number,
): UnmatchedFaces {
  const unmatched = {
    before: new Uint8Array(before.length / 3).fill(1),
    after: new Uint8Array(after.length / 3).fill(1),
  };
  const { starts, faces } = facesByLowestVertex(after, afterVertices);
  for (let i = 0, f = 0; i < before.length; i += 3, f++) {
    const p = partner[before[i]];
    const q = partner[before[i + 1]];
    const r = partner[before[i + 2]];
    if (p < 0 || q < 0 || r < 0) continue;
    const lowest = Math.min(p, q, r);
    const second = lowest === p ? q : lowest === q ? r : p;
    const third = lowest === p ? r : lowest === q ? p : q;
    for (let k = starts[lowest]; k < starts[lowest + 1]; k++) {
      const g = faces[k];
      if (unmatched.after[g] === 0) continue;
      const corner = lowestCorner(after, 3 * g);
      if (after[3 * g + ((corner + 1) % 3)] !== second || after[3 * g + ((corner + 2) % 3)] !== third)
        continue;
      unmatched.before[f] = 0;
      unmatched.after[g] = 0;
      break;
    }
  }
  return unmatched;
}

function facesByLowestVertex(triangles: Uint32Array, vertexCount: number) {
  const starts = new Uint32Array(vertexCount + 1);
  for (let i = 0; i < triangles.length; i += 3) {
    starts[triangles[i + lowestCorner(triangles, i)]]++;
  }
  let sum = 0;
  for (let v = 0; v <= vertexCount; v++) {
    sum += starts[v];
    starts[v] = sum;
  }
  const faces = new Uint32Array(triangles.length / 3);
  // From the end, so that each list is ascending and `starts` ends up at the first entry of each.
  for (let f = faces.length - 1; f >= 0; f--) {
    const v = triangles[3 * f + lowestCorner(triangles, 3 * f)];
    faces[--starts[v]] = f;
  }
  return { starts, faces };
}

function lowestCorner(triangles: Uint32Array, i: number): 0 | 1 | 2 {
  const a = triangles[i];
  const b = triangles[i + 1];
  const c = triangles[i + 2];
  return a < b ? (a < c ? 0 : 2) : b < c ? 1 : 2;
}
