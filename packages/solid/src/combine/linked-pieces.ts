/** Two pieces of one remix that touch, by index. */
export type Link = readonly [number, number];

/**
 * Which pieces of a remix hang together with some of them, over any chain of touches.
 *
 * @param from where to begin; what hangs together with none of these is not looked at
 * @param candidates the pieces that may be reached
 * @returns links that reach each of them
 */
export function linkedPieces(
  from: readonly number[],
  candidates: readonly number[],
  touch: (p: number, q: number) => boolean,
): Link[] {
  const links: Link[] = [];
  const known = new Set<number>();
  for (const start of from) {
    if (known.has(start)) continue;
    known.add(start);
    const open = [start];
    for (let p = open.pop(); p !== undefined; p = open.pop()) {
      for (const q of candidates) {
        if (known.has(q) || !touch(p, q)) continue;
        known.add(q);
        links.push([p, q]);
        open.push(q);
      }
    }
  }
  return links;
}
