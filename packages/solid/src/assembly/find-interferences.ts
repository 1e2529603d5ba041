import {
  buildTree,
  InputError,
  transformMesh,
  type Affine,
  type Mesh,
  type TriangleTree,
} from '@kinprint/mesh';
import { fromManifold, toManifold } from '../convert.ts';
import { remembered } from '../combine/remembered.ts';
import { defaults } from '../defaults.ts';
import { byVolume, regionsOf } from '../difference/regions.ts';
import { frameOf, frameOfBox, type Frame } from '../frame.ts';
import { withSolids, type Kernel, type KernelSolid } from '../kernel.ts';
import { closePairs, placedBounds, sharedBox } from './close-pairs.ts';
import { depthOrHalfThickness } from './depth.ts';
import type {
  Interference,
  InterferenceOptions,
  InterferenceRegion,
  Interferences,
  PlacedSolid,
} from './types.ts';

/**
 * The space that placed solids claim both: exact booleans of those whose boxes share some, split into regions.
 *
 * Parts that are seated in each other touch, and after rounding overlap a little: regions up to a depth or a volume do
 * not count (see `InterferenceOptions`). Where such a film hangs two places together they are one region. Time: a boolean for each pair of boxes; the rest is linear.
 */
export function findInterferences(
  kernel: Kernel,
  placed: readonly PlacedSolid[],
  options: InterferenceOptions = {},
): Interferences {
  const { depth_mm = defaults.contactDepth_mm, volume_mm3 = defaults.contactVolume_mm3 } = options;
  const boxes = placed.map(({ mesh, placement }) => placedBounds(mesh, placement));
  return withSolids(keep => {
    const solidOf = remembered((mesh: Mesh): Local | null => {
      const frame = frameOf(mesh);
      const solid = unlessNone(() => keep(toManifold(kernel, mesh, frame)));
      return solid === null ? null : { frame, solid };
    });
    const treeOf = remembered(({ mesh, placement }: PlacedSolid) =>
      buildTree(transformMesh(mesh, placement)),
    );
    const unusable = new Set(placed.flatMap(({ mesh }, k) => (solidOf(mesh) === null ? [k] : [])));
    const usable = boxes.map((box, k) => (unusable.has(k) ? null : box));
    const pairs = closePairs(usable, depth_mm);
    const found = pairs.flatMap(([a, b]): Interference[] => {
      const [p, q] = [placed[a], placed[b]];
      const [first, second] = [solidOf(p.mesh), solidOf(q.mesh)];
      const [box, other] = [usable[a], usable[b]];
      if (first === null || second === null || box === null || other === null) return [];
      const frame = frameOfBox(sharedBox(box, other, depth_mm));
      const common = withSolids(hold => {
        const [one, two] = [
          hold(first.solid.transform(between(first.frame, p.placement, frame))),
          hold(second.solid.transform(between(second.frame, q.placement, frame))),
        ];
        return fromManifold(hold(one.intersect(two)), frame);
      });
      if (common.triangles.length === 0) return [];
      const trees = [treeOf(p), treeOf(q)] as const;
      const regions = regionsIn(common, trees).filter(
        region => region.depth_mm > depth_mm && region.volume_mm3 > volume_mm3,
      );
      if (regions.length === 0) return [];
      return [
        {
          a,
          b,
          volume_mm3: regions.reduce((sum, region) => sum + region.volume_mm3, 0),
          depth_mm: Math.max(...regions.map(region => region.depth_mm)),
          regions,
        },
      ];
    });
    return { found, unusable: [...unusable], pairs: pairs.length };
  });
}

/** A solid in the kernel, in a frame of its own. */
interface Local {
  readonly frame: Frame;
  readonly solid: KernelSolid;
}

function regionsIn(common: Mesh, trees: readonly [TriangleTree, TriangleTree]): InterferenceRegion[] {
  const pieces = regionsOf(common, 'removed').connected.map(({ region }) => region);
  return pieces.sort(byVolume).map(({ volume_mm3, bounds_mm, centroid_mm, mesh }) => {
    const { least_mm, most_mm } = depthOrHalfThickness(mesh, volume_mm3, trees);
    return { volume_mm3, depth_mm: least_mm, depth_most_mm: most_mm, bounds_mm, centroid_mm };
  });
}

/** From a solid's own frame to where it is placed, in another frame; columns first, as the kernel wants it. */
function between(from: Frame, placement: Affine, to: Frame): Mat4 {
  const rows = placement.slice(0, 3);
  const scale = to.scale / from.scale;
  const shift = rows.map(
    (row, k) =>
      to.scale *
      (row[0] * from.center[0] + row[1] * from.center[1] + row[2] * from.center[2] + row[3] - to.center[k]),
  );
  const column = (k: 0 | 1 | 2) => rows.map(row => scale * row[k]);
  return [...column(0), 0, ...column(1), 0, ...column(2), 0, ...shift, 1] as unknown as Mat4;
}

type Mat4 = Parameters<KernelSolid['transform']>[0];

/** null where a mesh encloses no volume. */
function unlessNone<T>(make: () => T): T | null {
  try {
    return make();
  } catch (error) {
    if (error instanceof InputError && error.code === 'not-a-solid') return null;
    throw error;
  }
}
