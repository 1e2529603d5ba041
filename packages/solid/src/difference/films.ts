import type { Bounds } from '@kinprint/mesh';
import { defaults } from '../defaults.ts';
import { boundsOfAll, diagonalOf } from '../extent.ts';
import type { Kernel } from '../kernel.ts';
import { measureShells } from '../shell-measure.ts';
import { findShells } from '../shells.ts';
import type { BothSurfaces } from './both-surfaces.ts';
import { changedBoxes } from './boxes.ts';
import { clip } from './clip.ts';
import { cutsAround } from './cut-planes.ts';
import { deepBounds, deepSurface, type Visits } from './deep-surface.ts';
import type { Piece } from './piece.ts';
import type { MaterialRegion } from './types.ts';

/**
 * Frees a region from films.
 *
 * Rounding leaves films between surfaces that should coincide, a millionth thick but as wide as the face. They hang
 * together with the region beside them, or hang two regions together: two bores reamed in one plate. So the region is
 * cut down to the neighborhoods of what is deeper than the tolerance, each a region of its own; the films in between
 * are dropped (their volume is returned). Bounds are right to a hundredth where a film began, exact elsewhere. When
 * the visits run out, films stay where they are: regions may hang together and bounds be too wide.
 */
export function withoutFilms(
  kernel: Kernel,
  region: MaterialRegion,
  surfaces: BothSurfaces,
  visits: Visits,
): { readonly regions: readonly MaterialRegion[]; readonly films_mm3: number } {
  const extent = boundsOfAll([region.mesh]);
  const deep = deepSurface(region.mesh, surfaces, visits);
  if (extent === null || deep.triangles.length === 0) return { regions: [region], films_mm3: 0 };
  const changed = new Uint8Array(deep.triangles.length / 3).fill(1);
  const most = defaults.maxRegionsPerFilm;
  const boxes = changedBoxes([{ mesh: deep, changed }], diagonalOf(extent), surfaces.tolerance_mm, most);
  const cuts = boxes.map(box => cutsAround(box, [region.mesh]));
  if (cuts.length === 1 && cuts[0].length === 0) return { regions: [region], films_mm3: 0 };
  const regions = boxes.flatMap((box, i) => {
    let piece: Piece = { ...region.mesh, groupOf: null };
    for (const cut of cuts[i]) piece = clip(kernel, piece, cut);
    const { positions, triangles } = piece;
    const part = measured(region.kind, { positions, triangles });
    if (part === null) return [];
    // Again, now that the piece is small: finer.
    const finer = deepBounds(part.mesh, surfaces, visits);
    return [{ ...part, bounds_mm: finer === null ? box.bounds : common(finer, box.bounds) }];
  });
  const kept = regions.reduce((sum, part) => sum + part.volume_mm3, 0);
  return { regions, films_mm3: Math.max(0, region.volume_mm3 - kept) };
}

/** The pieces are cut wider than their boxes. */
function common({ min: p, max: q }: Bounds, { min: r, max: s }: Bounds): Bounds {
  return {
    min: [Math.max(p[0], r[0]), Math.max(p[1], r[1]), Math.max(p[2], r[2])],
    max: [Math.min(q[0], s[0]), Math.min(q[1], s[1]), Math.min(q[2], s[2])],
  };
}

function measured(
  kind: MaterialRegion['kind'],
  mesh: MaterialRegion['mesh'],
): Omit<MaterialRegion, 'bounds_mm'> | null {
  const shells = measureShells(mesh, findShells(mesh));
  const volume = shells.reduce((sum, shell) => sum + shell.volume_mm3, 0);
  if (volume <= 0) return null;
  const moment = (k: 0 | 1 | 2): number => shells.reduce((sum, shell) => sum + shell.moment[k], 0) / volume;
  return { kind, volume_mm3: volume, centroid_mm: [moment(0), moment(1), moment(2)], mesh };
}
