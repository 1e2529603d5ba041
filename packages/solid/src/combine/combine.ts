import { area, type Mesh } from '@kinprint/mesh';
import { comesFirst } from '../difference/canonical-order.ts';
import type { Kernel } from '../kernel.ts';
import { applyPieces, type Start } from './apply.ts';
import { appliedPieces } from './applied.ts';
import { glueHolds } from './glue-holds.ts';
import { gluedRemixes } from './glued-remixes.ts';
import { shapeOf } from './shape-of.ts';
import type { Applied, Combined, Contact, Remix, RemixChanges, Take } from './types.ts';

/**
 * The base with the changes of both remixes, as chosen where they are in conflict.
 *
 * Whatever comes out the same as one of the inputs is that input, triangle for triangle: with nothing changed the
 * base, with all changes of one remix and none of the other that remix. Which remix is named first makes no
 * difference, to the last bit.
 *
 * @param meshes all in the frame of the base
 * @param chosen one choice per conflict
 * @throws InputError `combine-refused`
 */
export function combineSolids(
  kernel: Kernel,
  meshes: Readonly<Record<'base' | Remix, Mesh>>,
  changes: Readonly<Record<Remix, RemixChanges>>,
  contact: Contact,
  chosen: readonly Take[],
  tolerance_mm: number,
): Combined & { readonly applied: readonly Applied[] } {
  const applied = appliedPieces(changes, contact, chosen);
  const copied = sameAs(meshes, changes, contact, applied);
  if (copied !== null) return { mesh: meshes[copied], exact: true, copied, applied };
  const everything = changes.a.pieces.length + changes.b.pieces.length;
  const apart = contact.conflicts.length === 0 && applied.length === everything;
  const glued = apart ? gluedRemixes(meshes, tolerance_mm) : null;
  const surface = applied.reduce((sum, { piece }) => sum + area(piece.region.mesh), 0);
  if (glued !== null && glueHolds(meshes, glued, tolerance_mm * surface))
    return { mesh: glued.mesh, exact: true, copied, applied };
  const starts = startingPoints(meshes, changes, contact, applied);
  return {
    ...applyPieces(kernel, meshes.base, applied, glued?.mesh ?? null, starts, tolerance_mm),
    copied,
    applied,
  };
}

/**
 * The remixes, each with what of its own changes to take back and what of the other's to put on it, least to take back
 * first; in an order that does not depend on which is named first.
 */
function startingPoints(
  meshes: Readonly<Record<Remix, Mesh>>,
  changes: Readonly<Record<Remix, RemixChanges>>,
  { agreements }: Contact,
  applied: readonly Applied[],
): Start[] {
  const shared = (side: Remix, index: number) => agreements.some(same => same[side] === index);
  const order: readonly Remix[] = comesFirst(shapeOf(meshes.a), shapeOf(meshes.b)) ? ['a', 'b'] : ['b', 'a'];
  const starts = order.map(side => ({
    mesh: meshes[side],
    undone: changes[side].pieces.filter(
      (_, index) => !shared(side, index) && !applied.some(each => each.side === side && each.index === index),
    ),
    left: applied.filter(each => each.side !== side && !shared(each.side, each.index)),
  }));
  return starts.sort((p, q) => p.undone.length - q.undone.length);
}

/** The input that the result is the same as, if any. */
function sameAs(
  meshes: Readonly<Record<'base' | Remix, Mesh>>,
  changes: Readonly<Record<Remix, RemixChanges>>,
  { agreements }: Contact,
  applied: readonly Applied[],
): Combined['copied'] {
  if (applied.length === 0) return 'base';
  const whole = (side: Remix): boolean => {
    const has = (index: number) => applied.some(each => each.side === side && each.index === index);
    const twins = agreements.filter(same => !has(same[side])).length;
    const own = applied.filter(each => each.side === side).length;
    return own + twins === changes[side].pieces.length && own + twins === applied.length;
  };
  const fit = (['a', 'b'] as const).filter(whole);
  if (fit.length < 2) return fit[0] ?? null;
  return comesFirst(shapeOf(meshes.a), shapeOf(meshes.b)) ? 'a' : 'b';
}
