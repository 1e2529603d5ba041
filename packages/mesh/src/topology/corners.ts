/** The directed edge that follows `h` around its face. */
export function nextEdge(h: number): number {
  return h % 3 === 2 ? h - 2 : h + 1;
}

/** The directed edge that comes before `h` around its face. */
export function previousEdge(h: number): number {
  return h % 3 === 0 ? h + 2 : h - 1;
}

/** The face of directed edge `h`. */
export function faceOf(h: number): number {
  return (h / 3) | 0;
}

/** Has the face two equal corners? Such faces take no part in topology. */
export function isCollapsed(triangles: Uint32Array, face: number): boolean {
  const a = triangles[3 * face];
  const b = triangles[3 * face + 1];
  const c = triangles[3 * face + 2];
  return a === b || b === c || c === a;
}
