import { InputError, type Mesh, type Note } from '@kinprint/mesh';
import { bodyOf, type Body } from '../body.ts';
import { defaults } from '../defaults.ts';
import { diagonalOfAll } from '../extent.ts';
import { frameOf } from '../frame.ts';
import type { Kernel } from '../kernel.ts';
import { differBothWays, type BothWays } from './both-ways.ts';
import { changedBoxes, type ChangedBox, type Marked } from './boxes.ts';
import { comesFirst } from './canonical-order.ts';
import { differInBoxes } from './local.ts';
import { byVolume } from './regions.ts';
import { snapOnto } from './snap.ts';
import type { MaterialDifference, MaterialOptions } from './types.ts';

/**
 * What material AFTER has that BEFORE has not, and the other way round. BEFORE must already stand in AFTER's frame.
 *
 * Booleans run only in the neighborhoods of changed faces, unless these hold most of the meshes. Vertices of BEFORE
 * within the tolerance of one of AFTER's count as that vertex. Meshes cross into the kernel in single precision about
 * the middle of each neighborhood, so volumes carry a relative error of some 1e-7 of its size times its surface.
 *
 * Overlapping shells count once and surfaces that are inside out are turned (see notes). A single shell that crosses
 * itself is not detected: where it covers space twice, the figures are those of the covering, not of the material.
 */
export function materialDifference(
  kernel: Kernel,
  before: Mesh,
  after: Mesh,
  options: MaterialOptions,
): MaterialDifference {
  const pair = {
    before: { body: bodyOf(before), changed: options.changedBefore, faces: before.triangles.length / 3 },
    after: { body: bodyOf(after), changed: options.changedAfter, faces: after.triangles.length / 3 },
  };
  const { body: a } = pair.before;
  const { body: b } = pair.after;
  if (a === null || b === null) return withoutVolume(a, b);
  const notes = [...notesOf(a, 'BEFORE'), ...notesOf(b, 'AFTER')];
  const first = { ...pair.before, body: a };
  const second = { ...pair.after, body: b };
  const found = comesFirst(a, b)
    ? differ(kernel, first, second, options)
    : swapped(differ(kernel, second, first, options));
  return { ...found, notes: [...notes, ...found.notes] };
}

interface Side {
  readonly body: Body;
  /** Per face of the mesh as given. */
  readonly changed: Uint8Array | undefined;
  /** Faces of the mesh as given. */
  readonly faces: number;
}

function differ(kernel: Kernel, before: Side, after: Side, options: MaterialOptions): MaterialDifference {
  const { tolerance_mm } = options;
  const snapped = snapOnto(before.body.mesh, after.body.mesh, tolerance_mm);
  const a: Body = { ...before.body, mesh: snapped.before };
  const b = after.body;
  const diagonal = diagonalOfAll([a.mesh, b.mesh]);
  const context = { tolerance_mm, diagonal, before: before.body, after: b };
  const thinnest = Math.max(tolerance_mm, singlePrecision * diagonal);

  if (options.method !== 'whole') {
    const marked: readonly Marked[] = [
      { mesh: a.mesh, changed: changedFaces(snapped.unmatched.before, before) },
      { mesh: b.mesh, changed: changedFaces(snapped.unmatched.after, after) },
    ];
    const boxes = changedBoxes(marked, diagonal, tolerance_mm);
    if (boxes.length === 0) return resultOf('none', { regions: [], slivers_mm3: 0 }, context);
    if (worthCutting(marked, boxes)) {
      const local = attempt(() => differInBoxes(kernel, a, b, boxes, thinnest));
      const result = local && resultOf('local', local, context);
      if (result !== null && accountedFor(result, context)) return result;
    }
  }
  const whole = attempt(() => differBothWays(kernel, a, b, frameOf(a.mesh, b.mesh), thinnest));
  if (whole === null) return refused();
  const result = resultOf('whole', whole, context);
  return accountedFor(result, context) ? result : inconsistent();
}

function swapped(found: MaterialDifference): MaterialDifference {
  return {
    ...found,
    added_mm3: found.removed_mm3,
    removed_mm3: found.added_mm3,
    regions: found.regions.map(region => ({
      ...region,
      kind: region.kind === 'added' ? 'removed' : 'added',
    })),
    unattributed_mm3: found.unattributed_mm3 === null ? null : -found.unattributed_mm3,
  };
}

/** Twice the spacing of single-precision numbers at the size of the part: nothing thinner can be told from noise. */
const singlePrecision = 2.5e-7;

interface Context {
  readonly tolerance_mm: number;
  readonly diagonal: number;
  readonly before: Body;
  readonly after: Body;
}

/** Faces that the other mesh does not have and that, where flags are given, deviate. */
function changedFaces(unmatched: Uint8Array, { changed, faces }: Side): Uint8Array {
  // Dropping collapsed faces shifts the numbers of the rest; without a common numbering the flags say nothing.
  if (changed?.length !== faces || faces !== unmatched.length) return unmatched;
  return unmatched.map((face, f) => face & changed[f]);
}

function worthCutting(marked: readonly Marked[], boxes: readonly ChangedBox[]): boolean {
  let total = 0;
  let within = 0;
  for (const { mesh } of marked) {
    total += mesh.triangles.length / 3;
    within += facesWithin(mesh, boxes);
  }
  return total >= defaults.wholeBelowFaces && within < defaults.wholeAboveShare * total;
}

/** Faces whose first corner lies in a box: near enough for a choice of method. */
function facesWithin({ positions, triangles }: Mesh, boxes: readonly ChangedBox[]): number {
  let count = 0;
  for (let i = 0; i < triangles.length; i += 3) {
    const v = 3 * triangles[i];
    for (const { bounds, margin } of boxes) {
      if (
        positions[v] >= bounds.min[0] - margin &&
        positions[v] <= bounds.max[0] + margin &&
        positions[v + 1] >= bounds.min[1] - margin &&
        positions[v + 1] <= bounds.max[1] + margin &&
        positions[v + 2] >= bounds.min[2] - margin &&
        positions[v + 2] <= bounds.max[2] + margin
      ) {
        count++;
        break;
      }
    }
  }
  return count;
}

/** null when the kernel refuses a piece. */
function attempt(work: () => BothWays): BothWays | null {
  try {
    return work();
  } catch (error) {
    if (error instanceof InputError) return null;
    throw error;
  }
}

function resultOf(
  method: MaterialDifference['method'],
  found: BothWays,
  context: Context,
): MaterialDifference {
  const { before, after } = context;
  const regions = [...found.regions].sort(byVolume);
  const sum = (kind: 'added' | 'removed'): number =>
    regions.reduce((total, region) => (region.kind === kind ? total + region.volume_mm3 : total), 0);
  const added = sum('added');
  const removed = sum('removed');
  const known = before.groupOf === null && after.groupOf === null;
  const unattributed = known ? after.volume_mm3 - before.volume_mm3 - added + removed : null;
  return {
    added_mm3: added,
    removed_mm3: removed,
    regions,
    slivers_mm3: found.slivers_mm3,
    unattributed_mm3: unattributed,
    method,
    notes: [...(known ? [] : [overlapping]), ...withinNote(found.slivers_mm3, unattributed, context)],
  };
}

const overlapping: Note = {
  code: 'shells-may-overlap',
  text: 'Shells lie within reach of each other; where they overlap, material counts once.',
  about: 'unattributed_mm3',
};

/** Says what lies within the tolerance when that is more than rounding of the files can explain. */
function withinNote(slivers_mm3: number, unattributed_mm3: number | null, context: Context): readonly Note[] {
  const { tolerance_mm, diagonal, before, after } = context;
  const noise = 2 * singlePrecision * diagonal * Math.max(before.area_mm2, after.area_mm2);
  const within = Math.max(slivers_mm3, Math.abs(unattributed_mm3 ?? 0));
  if (within <= noise) return [];
  return [
    {
      code: 'material-within-tolerance',
      text: `Differences within the tolerance of ${Number(tolerance_mm.toPrecision(3))} mm add up to ${Number(within.toPrecision(2))} mm³ that count neither as added nor as removed.`,
      about: 'added_mm3',
    },
  ];
}

/** Whether differences within the tolerance can explain what the regions do not. */
function accountedFor({ unattributed_mm3 }: MaterialDifference, context: Context): boolean {
  if (unattributed_mm3 === null) return true;
  const { tolerance_mm, diagonal, before, after } = context;
  const depth = Math.max(tolerance_mm, defaults.relativeTolerance * diagonal);
  return Math.abs(unattributed_mm3) <= 2 * depth * Math.max(before.area_mm2, after.area_mm2);
}

function unknown(notes: readonly Note[]): MaterialDifference {
  return {
    added_mm3: null,
    removed_mm3: null,
    regions: [],
    slivers_mm3: null,
    unattributed_mm3: null,
    method: 'none',
    notes,
  };
}

function withoutVolume(before: Body | null, after: Body | null): MaterialDifference {
  const open = [...(before === null ? ['BEFORE'] : []), ...(after === null ? ['AFTER'] : [])];
  const text = `${open.join(' and ')} enclosed no volume (open, or faces that point both ways), so added and removed material cannot be told.`;
  return unknown(about('no-material-open', text));
}

function refused(): MaterialDifference {
  const text = 'The boolean kernel refused one of the meshes, so added and removed material is unknown.';
  return unknown(about('no-material-refused', text));
}

function inconsistent(): MaterialDifference {
  const text =
    'Added and removed material do not explain the difference of the volumes (a surface that crosses itself?), so neither is given.';
  return unknown(about('no-material-inconsistent', text));
}

function about(code: string, text: string): readonly Note[] {
  return ['added_mm3', 'removed_mm3'].map(key => ({ code, text, about: key }));
}

function notesOf(body: Body, name: string): readonly Note[] {
  return body.notes.map(note => ({ ...note, text: `${name}: ${note.text}` }));
}
