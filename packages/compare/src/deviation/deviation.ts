import { buildTree, type Mesh, type TriangleTree } from '@kinprint/mesh';
import type { Deviation } from '../comparison.ts';
import { sameTolerance } from '../defaults.ts';
import { both, type Helpers } from '../helpers.ts';
import { mergeParts, type DeviationPart } from './deviation-range.ts';
import {
  sideRange,
  sideVertices,
  type RangeTask,
  type SideRange,
  type SideTask,
  type SideVertices,
} from './deviation-side.ts';
import { quantile } from './distribution.ts';
import { sharedFaces } from './shared-faces.ts';
import type { VertexDistances } from './vertex-distances.ts';

export interface DeviationOptions {
  /** Faces within this distance of the other surface count as unchanged. */
  readonly tolerance_mm: number;
  /** Trees of the two meshes, when they are there already. */
  readonly treeBefore?: TriangleTree;
  readonly treeAfter?: TriangleTree;
  /** Error of the maximum that is aimed at; default `sameTolerance` of the larger diagonal. */
  readonly error_mm?: number;
}

/** The deviation of two meshes, and where on them it is. */
export interface DeviationResult {
  /** null when one of the meshes has no faces. */
  readonly deviation: Deviation | null;
  /** Per face 1 when it deviates by more than the tolerance somewhere, or was not proven not to. */
  readonly changedBefore: Uint8Array;
  readonly changedAfter: Uint8Array;
  /** Per vertex its distance from the other surface in mm; NaN for vertices without faces. */
  readonly distanceBefore: Float32Array;
  readonly distanceAfter: Float32Array;
}

/**
 * How far the surfaces of two meshes lie apart, both ways; `before` must stand in the frame of `after` already.
 *
 * The maximum is the Hausdorff distance with a proven error: `max_mm` is the distance of a real point, and no point
 * of either surface lies farther than `max_mm + max_error_mm`, up to the rounding of double precision (1e-10 of the
 * diagonal). The error aimed at is `error_mm`; when bounding it would take too long, the larger error that was
 * reached is given. Mean, root mean square and 95th percentile weigh the area of both surfaces together (the integrals
 * over both, divided by the sum of the areas); they are estimates from evenly spread points, without bias, and more of
 * them where the distance bends: good to about 0.5 % of the value for changes that touch more than 1e-4 of the
 * surface, and to 0.1 % where the distance is smooth over the faces.
 *
 * Faces that both meshes have bit for bit cost next to nothing. Orientation plays no role, and the meshes need not be
 * closed or clean. Faces with corners that are not finite are left out, and marked as changed.
 */
export function deviation(before: Mesh, after: Mesh, options: DeviationOptions): DeviationResult {
  const plan = planned(before, after, options);
  if ('deviation' in plan) return plan;
  const vertices = [sideVertices(plan.tasks[0]), sideVertices(plan.tasks[1])] as const;
  const [first, second] = rangeTasks(plan, vertices);
  return combined(before, after, plan, vertices, [sideRange(first), sideRange(second)]);
}

/** The same, to the last bit, with the two directions on offer to other threads. */
export async function deviationAcross(
  before: Mesh,
  after: Mesh,
  options: DeviationOptions,
  helpers: Pick<Helpers, 'sideVertices' | 'sideRange'>,
): Promise<DeviationResult> {
  const plan = planned(before, after, options);
  if ('deviation' in plan) return plan;
  const vertices = await both(helpers.sideVertices, plan.tasks);
  const ranges = await both(helpers.sideRange, rangeTasks(plan, vertices));
  return combined(before, after, plan, vertices, ranges);
}

/** BEFORE against AFTER, and AFTER against BEFORE. */
type Pair<T> = readonly [T, T];

interface Plan {
  readonly tasks: Pair<SideTask>;
  readonly diagonal: number;
  readonly tolerance_mm: number;
  readonly epsilon_mm: number;
}

/** What is to be measured; the result where nothing is. */
function planned(before: Mesh, after: Mesh, options: DeviationOptions): Plan | DeviationResult {
  const shared = sharedFaces(before, after);
  const faces = { before: before.triangles.length / 3, after: after.triangles.length / 3 };
  if (shared.count.before === faces.before && shared.count.after === faces.after && faces.after > 0)
    return unchanged(before, after);
  const treeBefore = options.treeBefore ?? buildTree(before);
  const treeAfter = options.treeAfter ?? buildTree(after);
  if (treeBefore.size === 0 || treeAfter.size === 0) return incomparable(before, after);
  const diagonal = Math.max(treeBefore.diagonal, treeAfter.diagonal);
  return {
    tasks: [
      { from: treeBefore, to: treeAfter, skip: bySlot(shared.before, treeBefore) },
      { from: treeAfter, to: treeBefore, skip: bySlot(shared.after, treeAfter) },
    ],
    diagonal,
    tolerance_mm: options.tolerance_mm,
    epsilon_mm: options.error_mm ?? sameTolerance(diagonal),
  };
}

/** Both sides are bounded against the greatest distance found on either: that spares the lesser one most of its work. */
function rangeTasks(plan: Plan, vertices: Pair<SideVertices>): Pair<RangeTask> {
  const { tasks, tolerance_mm, epsilon_mm } = plan;
  const common = { low: Math.max(vertices[0].low, vertices[1].low), tolerance_mm, epsilon_mm };
  return [
    { ...tasks[0], ...common, vertices: vertices[0] },
    { ...tasks[1], ...common, vertices: vertices[1] },
  ];
}

function combined(
  before: Mesh,
  after: Mesh,
  { tasks, diagonal }: Plan,
  vertices: Pair<SideVertices>,
  ranges: Pair<SideRange>,
): DeviationResult {
  return {
    deviation: describe(tasks, vertices, [ranges[0].part, ranges[1].part], diagonal),
    changedBefore: byFace(ranges[0].changed, tasks[0].from),
    changedAfter: byFace(ranges[1].changed, tasks[1].from),
    distanceBefore: byVertex(vertices[0].atVertices, tasks[0].from, before),
    distanceAfter: byVertex(vertices[1].atVertices, tasks[1].from, after),
  };
}

function describe(
  tasks: Pair<SideTask>,
  sides: Pair<SideVertices>,
  parts: Pair<DeviationPart>,
  diagonal: number,
): Deviation {
  const sum = mergeParts(parts[0], parts[1]);
  // The greatest distance of a vertex is known before the ranges start; they only report what exceeds it.
  const fromBefore = Math.max(sides[0].low, Number.isNaN(parts[0].bounds.x) ? -1 : parts[0].bounds.low);
  const fromAfter = Math.max(sides[1].low, Number.isNaN(parts[1].bounds.x) ? -1 : parts[1].bounds.low);
  const which = fromAfter > fromBefore ? 1 : 0;
  const max = Math.max(fromBefore, fromAfter);
  const { bounds } = parts[which];
  const v = 3 * sides[which].farthest;
  const { vertices } = tasks[which].from;
  const inside = !Number.isNaN(bounds.x) && bounds.low > sides[which].low;
  const excess = Math.max(0, sum.bounds.high - max);
  // Estimates: kept in the order that the true values have.
  const area = sum.area > 0 ? sum.area : Infinity;
  const mean = Math.min(max, Math.max(0, sum.distance / area));
  const rms = Math.min(max, Math.max(mean, Math.sqrt(Math.max(0, sum.distanceSq / area))));
  return {
    max_mm: max,
    max_error_mm: excess + 1e-12 * diagonal,
    mean_mm: mean,
    rms_mm: rms,
    p95_mm: quantile(sum.distribution, 0.95),
    max_at_mm: inside ? [bounds.x, bounds.y, bounds.z] : [vertices[v], vertices[v + 1], vertices[v + 2]],
    max_from: which === 0 ? 'before' : 'after',
  };
}

function bySlot(perFace: Uint8Array, tree: TriangleTree): Uint8Array {
  const out = new Uint8Array(tree.size);
  for (let slot = 0; slot < out.length; slot++) out[slot] = perFace[tree.faceOf[slot]];
  return out;
}

function byFace(perSlot: Uint8Array, tree: TriangleTree): Uint8Array {
  const out = new Uint8Array(tree.slotOf.length).fill(1);
  for (let slot = 0; slot < perSlot.length; slot++) out[tree.faceOf[slot]] = perSlot[slot];
  return out;
}

function byVertex(at: VertexDistances, tree: TriangleTree, mesh: Mesh): Float32Array {
  const out = new Float32Array(mesh.positions.length / 3).fill(NaN);
  for (let v = 0; v < tree.vertexOf.length; v++) out[tree.vertexOf[v]] = at.distance[v];
  return out;
}

function unchanged(before: Mesh, after: Mesh): DeviationResult {
  const [x, y, z] = after.positions.subarray(3 * after.triangles[0], 3 * after.triangles[0] + 3);
  return {
    ...blank(before, after, 0),
    deviation: {
      max_mm: 0,
      max_error_mm: 0,
      mean_mm: 0,
      rms_mm: 0,
      p95_mm: 0,
      max_at_mm: [x, y, z],
      max_from: 'before',
    },
  };
}

function incomparable(before: Mesh, after: Mesh): DeviationResult {
  return { ...blank(before, after, 1), deviation: null };
}

function blank(before: Mesh, after: Mesh, changed: 0 | 1): Omit<DeviationResult, 'deviation'> {
  const distance = (mesh: Mesh): Float32Array => {
    const out = new Float32Array(mesh.positions.length / 3).fill(NaN);
    if (changed === 0) for (const vertex of mesh.triangles) out[vertex] = 0;
    return out;
  };
  return {
    changedBefore: new Uint8Array(before.triangles.length / 3).fill(changed),
    changedAfter: new Uint8Array(after.triangles.length / 3).fill(changed),
    distanceBefore: distance(before),
    distanceAfter: distance(after),
  };
}
