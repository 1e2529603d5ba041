import { area, crossingPairs, InputError, type Mesh } from '@kinprint/mesh';
import { fromManifold, toManifold } from '../convert.ts';
import { defaults } from '../defaults.ts';
import { frameOf } from '../frame.ts';
import { withSolids, type Kernel } from '../kernel.ts';
import { grown } from './grow.ts';
import { surfaceFigures } from './surface-figures.ts';
import { tidied } from './tidied.ts';
import type { Applied, Change, Combined } from './types.ts';

/**
 * The base without the removed pieces, with the added ones.
 *
 * There are up to three ways. Faces glued (`gluedRemixes`), where that is possible, and the pieces as the differences
 * left them are exact, but may open cracks or overlap where rounding keeps surfaces from coinciding; the pieces' parts
 * free of films (`cleanParts`) cross the base's surface cleanly, but bend it by less than the tolerance. The first is
 * taken that has as many shells and holes as the clean one, the same volume up to tolerance × surface, and no faces
 * that cross; failing that, the one of these with fewest crossings.
 *
 * @param glued null where faces cannot be glued
 * @throws InputError `combine-refused` when the kernel cannot take a piece
 */
export function applyPieces(
  kernel: Kernel,
  base: Mesh,
  applied: readonly Applied[],
  glued: Mesh | null,
  tolerance_mm: number,
): Omit<Combined, 'copied'> {
  const pieces = applied.map(({ piece }) => piece);
  const solids = (from: (piece: Change) => readonly Mesh[]) =>
    pieces.flatMap(piece => from(piece).map(mesh => ({ kind: piece.region.kind, mesh })));
  const noise_mm = defaults.offsetShare * tolerance_mm;
  const clean = attempt(
    kernel,
    base,
    solids(({ parts }) => parts.map(part => grown(part, tolerance_mm))),
    noise_mm,
  );
  const surface = pieces.reduce((sum, { region }) => sum + area(region.mesh), 0);
  const ways = [
    () => (glued === null ? null : { mesh: glued, exact: true }),
    () => {
      const mesh = attempt(
        kernel,
        base,
        solids(({ region }) => [region.mesh]),
        noise_mm,
      );
      return mesh === null ? null : { mesh, exact: true };
    },
    () => (clean === null ? null : { mesh: clean, exact: false }),
  ];
  let best: { readonly result: Omit<Combined, 'copied'>; readonly crossings: number } | null = null;
  for (const way of ways) {
    const result = way();
    if (result === null) continue;
    if (result.exact && clean !== null && !asClean(result.mesh, clean, tolerance_mm * surface)) continue;
    const crossings = crossingPairs(result.mesh).pairs.length / 2;
    if (best === null || crossings < best.crossings) best = { result, crossings };
    if (crossings === 0) break;
  }
  if (best !== null) return best.result;
  throw new InputError(
    'combine-refused',
    'The boolean kernel refuses one of the changes.',
    'Let the program the meshes come from repair them (kinprint measure says what is wrong), and try again.',
  );
}

function attempt(
  kernel: Kernel,
  base: Mesh,
  pieces: readonly { readonly kind: 'added' | 'removed'; readonly mesh: Mesh }[],
  noise_mm: number,
): Mesh | null {
  const frame = frameOf(base, ...pieces.map(piece => piece.mesh));
  const { Manifold } = kernel.api;
  try {
    return withSolids(keep => {
      const solids = (kind: 'added' | 'removed') =>
        pieces.filter(piece => piece.kind === kind).map(({ mesh }) => keep(toManifold(kernel, mesh, frame)));
      let result = keep(toManifold(kernel, base, frame));
      const [removed, added] = [solids('removed'), solids('added')];
      if (removed.length > 0) result = keep(result.subtract(keep(Manifold.union(removed))));
      if (added.length > 0) result = keep(Manifold.union([result, ...added]));
      const simpler = keep(result.simplify(noise_mm * frame.scale));
      return tidied(fromManifold(simpler, frame), noise_mm);
    });
  } catch (error) {
    if (error instanceof InputError) return null;
    throw error;
  }
}

/** Whether two results have the same number of shells and holes, and nearly the same volume. */
function asClean(exact: Mesh, clean: Mesh, allowed_mm3: number): boolean {
  const [p, q] = [surfaceFigures(exact), surfaceFigures(clean)];
  return (
    p.closed &&
    p.shells === q.shells &&
    p.characteristic === q.characteristic &&
    Math.abs(p.volume_mm3 - q.volume_mm3) <= allowed_mm3
  );
}
