import { area, crossingPairs, InputError, type Mesh } from '@kinprint/mesh';
import { fromManifold, toManifold } from '../convert.ts';
import { defaults } from '../defaults.ts';
import { frameOf } from '../frame.ts';
import { withSolids, type Kernel } from '../kernel.ts';
import { grown } from './grow.ts';
import { remembered } from './remembered.ts';
import { surfaceFigures } from './surface-figures.ts';
import { tidied } from './tidied.ts';
import type { Applied, Change, Combined } from './types.ts';

/** A remix that goes in whole. */
export interface Whole {
  readonly mesh: Mesh;
  /** What of the other remix goes in, too. */
  readonly left: readonly Applied[];
}

/**
 * The base without the removed pieces, with the added ones.
 *
 * There are some ways. Faces glued (`gluedRemixes`), where that is possible, and the pieces as the differences
 * left them are exact, but may open cracks or overlap where rounding keeps surfaces from coinciding; the pieces' parts
 * free of films (`cleanParts`) cross the base's surface cleanly, but bend it by less than the tolerance. The first is
 * taken that has as many shells and holes as the clean one, the same volume up to tolerance × surface, and no faces
 * that cross. Failing that, the clean parts of one remix are put on the other, where that goes in whole; and the one of
 * all with fewest crossings is taken.
 *
 * @param glued null where faces cannot be glued
 * @param wholes remixes that go in whole, each with what is then left to apply
 * @throws InputError `combine-refused` when the kernel cannot take a piece
 */
export function applyPieces(
  kernel: Kernel,
  base: Mesh,
  applied: readonly Applied[],
  glued: Mesh | null,
  wholes: readonly Whole[],
  tolerance_mm: number,
): Omit<Combined, 'copied'> {
  const solids = (pieces: readonly Applied[], from: (piece: Change) => readonly Mesh[]) =>
    pieces.flatMap(({ piece }) => from(piece).map(mesh => ({ kind: piece.region.kind, mesh })));
  const noise_mm = defaults.offsetShare * tolerance_mm;
  const cleanly = (start: Mesh, pieces: readonly Applied[]) => {
    const tools = solids(pieces, ({ parts }) => parts.map(part => grown(part, tolerance_mm)));
    return attempt(kernel, start, tools, noise_mm);
  };
  const clean = cleanly(base, applied);
  const surface = applied.reduce((sum, { piece }) => sum + area(piece.region.mesh), 0);
  const ways = [
    () => (glued === null ? null : { mesh: glued, exact: true }),
    () => {
      const mesh = attempt(
        kernel,
        base,
        solids(applied, ({ region }) => [region.mesh]),
        noise_mm,
      );
      return mesh === null ? null : { mesh, exact: true };
    },
    () => (clean === null ? null : { mesh: clean, exact: false }),
    ...wholes.map(({ mesh: start, left }) => () => {
      const mesh = cleanly(start, left);
      return mesh === null ? null : { mesh, exact: false };
    }),
  ];
  let best: { readonly result: Omit<Combined, 'copied'>; readonly crossings: number } | null = null;
  const judge = clean === null ? null : judgeBy(clean, tolerance_mm * surface);
  for (const way of ways) {
    const result = way();
    if (result === null) continue;
    const crossings = crossingPairs(result.mesh).pairs.length / 2;
    if (judge !== null && result.mesh !== clean && !judge(result.mesh, crossings)) continue;
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

/**
 * Tells whether a result has as many shells and handles as the clean one, and nearly the same volume. Of handles a clean
 * one whose own faces cross may have too many; then it is enough that none cross.
 */
function judgeBy(clean: Mesh, allowed_mm3: number): (result: Mesh, crossings: number) => boolean {
  const wanted = surfaceFigures(clean);
  const doubtful = remembered((mesh: Mesh) => crossingPairs(mesh).pairs.length > 0);
  return (result, crossings) => {
    const found = surfaceFigures(result);
    return (
      found.closed &&
      found.shells === wanted.shells &&
      Math.abs(found.volume_mm3 - wanted.volume_mm3) <= allowed_mm3 &&
      (found.characteristic === wanted.characteristic || (crossings === 0 && doubtful(clean)))
    );
  };
}
