import type { Body } from '../body.ts';
import { frameOf } from '../frame.ts';
import type { Kernel } from '../kernel.ts';
import { differBothWays, type BothWays } from './both-ways.ts';
import type { ChangedBox } from './boxes.ts';
import { clip } from './clip.ts';
import type { Coarse } from './coarsen.ts';
import { cutsAround } from './cut-planes.ts';
import { pieceOf, type Piece } from './piece.ts';

/**
 * The differences of two bodies inside some boxes: both are cut down to each box, booleans run on what is left.
 *
 * Null as `differBothWays` gives it. Exact when the bodies coincide outside the boxes and no difference crosses a side of one.
 */
export function differInBoxes(
  kernel: Kernel,
  before: Body,
  after: Body,
  boxes: readonly ChangedBox[],
  thinnest_mm: number,
  coarse: Coarse | null,
): BothWays | null {
  const results: BothWays[] = [];
  for (const box of boxes) {
    const cuts = cutsAround(box, [before.mesh, after.mesh]);
    const cutDown = (body: Body): Body => {
      let piece = pieceOf(body);
      for (const cut of cuts) piece = clip(kernel, piece, cut);
      return cutBody(body, piece);
    };
    const a = cutDown(before);
    const b = cutDown(after);
    const result = differBothWays(kernel, a, b, frameOf(a.mesh, b.mesh), thinnest_mm, coarse);
    if (result === null) return null;
    results.push(result);
  }
  return {
    regions: results.flatMap(result => result.regions),
    slivers_mm3: results.reduce((sum, result) => sum + result.slivers_mm3, 0),
  };
}

function cutBody(body: Body, { positions, triangles, groupOf }: Piece): Body {
  return { ...body, mesh: { positions, triangles }, groupOf };
}
