import { area, InputError, type Mesh } from '@kinprint/mesh';
import { fromManifold, toManifold } from '../convert.ts';
import { defaults } from '../defaults.ts';
import type { MaterialRegion } from '../difference/types.ts';
import { frameOf } from '../frame.ts';
import { withSolids, type Kernel } from '../kernel.ts';
import { counted, fewestCrossings, type Surface } from './fewest-crossings.ts';
import { grown } from './grow.ts';
import { remembered } from './remembered.ts';
import { surfaceFigures } from './surface-figures.ts';
import { tidied } from './tidied.ts';
import { undoneBy, type Applied, type Change, type Combined } from './types.ts';

/** A remix to begin with. */
export interface Start {
  readonly mesh: Mesh;
  /** What of it does not go in; none where it goes in whole. */
  readonly undone: readonly Change[];
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
 * that cross. Failing that, the clean parts of one remix are put on the other, less what of that does not go in; then
 * parts are taken a wider offset off; and the one of all with fewest crossings is taken.
 *
 * @param glued null where faces cannot be glued
 * @param starts the remixes, each with what of it to take back and what is then left to apply
 * @throws InputError `combine-refused` when the kernel cannot take a piece
 */
export function applyPieces(
  kernel: Kernel,
  base: Mesh,
  applied: readonly Applied[],
  glued: Mesh | null,
  starts: readonly Start[],
  tolerance_mm: number,
): Omit<Combined, 'copied'> {
  const noise_mm = defaults.offsetShare * tolerance_mm;
  const tools = (pieces: readonly Applied[], from: (piece: Change) => readonly Mesh[]) =>
    pieces.flatMap(({ piece }) => from(piece).map(mesh => ({ kind: piece.region.kind, mesh })));
  const cleanly = ({ mesh, undone, left }: Start, offset_mm: number) =>
    attempt(
      kernel,
      mesh,
      undone.flatMap(({ region, undoneAt }) =>
        undoneAt(offset_mm).map(part => ({ kind: undoneBy(region.kind), mesh: grown(part, offset_mm) })),
      ),
      tools(left, ({ partsAt }) => partsAt(offset_mm).map(part => grown(part, offset_mm))),
      noise_mm,
    );
  const plainly = { mesh: base, undone: [], left: applied };
  const clean = cleanly(plainly, tolerance_mm);
  const surface = applied.reduce((sum, { piece }) => sum + area(piece.region.mesh), 0);
  const fits = clean === null ? () => true : judgeBy(clean, tolerance_mm * surface);
  const way = (make: () => Surface | null, exact: boolean) => () => {
    const made = make();
    return made !== null && fits(made) ? { ...made, exact } : null;
  };
  const best = fewestCrossings([
    way(() => glued && counted(glued), true),
    way(
      () =>
        attempt(
          kernel,
          base,
          [],
          tools(applied, ({ region }) => [region.mesh]),
          noise_mm,
        ),
      true,
    ),
    () => clean && { ...clean, exact: false },
    ...starts.map(start => way(() => cleanly(start, tolerance_mm), false)),
    ...defaults.widerOffsets.flatMap(times =>
      [plainly, ...starts].map(start => way(() => cleanly(start, times * tolerance_mm), false)),
    ),
  ]);
  if (best !== null) return { mesh: best.mesh, exact: best.exact };
  throw new InputError(
    'combine-refused',
    'The boolean kernel refuses one of the changes.',
    'Let the program the meshes come from repair them (kinprint measure says what is wrong), and try again.',
  );
}

interface Tool {
  readonly kind: MaterialRegion['kind'];
  readonly mesh: Mesh;
}

/** Pieces cut from and put on a solid, first these and then those; null where the kernel refuses one. */
function attempt(
  kernel: Kernel,
  start: Mesh,
  first: readonly Tool[],
  then: readonly Tool[],
  noise_mm: number,
): Surface | null {
  const frame = frameOf(start, ...[...first, ...then].map(({ mesh }) => mesh));
  const { Manifold } = kernel.api;
  try {
    return withSolids(keep => {
      let result = keep(toManifold(kernel, start, frame));
      for (const tools of [first, then]) {
        const solids = (kind: Tool['kind']) =>
          tools.filter(tool => tool.kind === kind).map(({ mesh }) => keep(toManifold(kernel, mesh, frame)));
        const [removed, added] = [solids('removed'), solids('added')];
        if (removed.length > 0) result = keep(result.subtract(keep(Manifold.union(removed))));
        if (added.length > 0) result = keep(Manifold.union([result, ...added]));
      }
      return tidiedSurface(
        () => fromManifold(result, frame),
        () => fromManifold(keep(result.simplify(noise_mm * frame.scale)), frame),
        noise_mm,
      );
    });
  } catch (error) {
    if (error instanceof InputError) return null;
    throw error;
  }
}

/**
 * What a boolean left, tidied up. Collapsing what is smaller than the noise may fold a face over another, as may leaving
 * it; so there are some ways here, too, from the usual one to the roughest.
 */
function tidiedSurface(asMade: () => Mesh, simplified: () => Mesh, noise_mm: number): Surface | null {
  const [raw, simple] = [lazily(asMade), lazily(simplified)];
  return fewestCrossings([
    () => counted(tidied(simple(), noise_mm)),
    () => counted(tidied(raw(), noise_mm)),
    () => counted(raw()),
    ...defaults.rougherNoise.map(times => () => counted(tidied(simple(), times * noise_mm))),
  ]);
}

function lazily<T>(make: () => T): () => T {
  const known = remembered((_: null) => make());
  return () => known(null);
}

/**
 * Tells whether a result has as many shells and handles as the clean one, and nearly the same volume. Of handles a clean
 * one whose own faces cross may have too many; then it is enough that none cross.
 */
function judgeBy(clean: Surface, allowed_mm3: number): (result: Surface) => boolean {
  const wanted = surfaceFigures(clean.mesh);
  return ({ mesh, crossings }) => {
    const found = surfaceFigures(mesh);
    return (
      found.closed &&
      found.shells === wanted.shells &&
      Math.abs(found.volume_mm3 - wanted.volume_mm3) <= allowed_mm3 &&
      (found.characteristic === wanted.characteristic || (crossings === 0 && clean.crossings > 0))
    );
  };
}
