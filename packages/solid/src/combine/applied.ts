import { area } from '@kinprint/mesh';
import { byVolume } from '../difference/regions.ts';
import { comesFirst } from '../difference/canonical-order.ts';
import type { Applied, Change, Contact, Remix, RemixChanges, Take } from './types.ts';

/**
 * The pieces that go into the result: all that are in no conflict, once where both remixes agree, and those that were
 * chosen. In an order, and of two alike the one, that do not depend on which remix is named first.
 *
 * @param chosen one choice per conflict
 */
export function appliedPieces(
  changes: Readonly<Record<Remix, RemixChanges>>,
  { conflicts, agreements }: Contact,
  chosen: readonly Take[],
): Applied[] {
  const left = new Set<string>();
  conflicts.forEach(({ pieces }, k) => {
    if (chosen[k] !== 'a' && chosen[k] !== 'both') pieces.a.forEach(i => left.add(`a${i}`));
    if (chosen[k] !== 'b' && chosen[k] !== 'both') pieces.b.forEach(i => left.add(`b${i}`));
  });
  for (const { a, b } of agreements) {
    const first = comesFirst(shapeOf(changes.a.pieces[a]), shapeOf(changes.b.pieces[b]));
    left.add(first ? `b${b}` : `a${a}`);
  }
  const all = (['a', 'b'] as const).flatMap(side =>
    changes[side].pieces.map((piece, index) => ({ side, index, piece })),
  );
  return all
    .filter(({ side, index }) => !left.has(`${side}${index}`))
    .sort((p, q) => byVolume(p.piece.region, q.piece.region));
}

function shapeOf({ region: { mesh, volume_mm3 } }: Change) {
  return { mesh, volume_mm3, area_mm2: area(mesh) };
}
