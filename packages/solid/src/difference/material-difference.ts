import { InputError, type Mesh, type Note } from '@kinprint/mesh';
import { bodyOf, type Body } from '../body.ts';
import { defaults } from '../defaults.ts';
import { diagonalOfAll } from '../extent.ts';
import { frameOf } from '../frame.ts';
import type { Kernel } from '../kernel.ts';
import { differBothWays, type BothWays } from './both-ways.ts';
import { changedBoxes, type ChangedBox, type Marked } from './boxes.ts';
import { comesFirst } from './canonical-order.ts';
import { coarsenShared, type Coarse, type CoarseSide } from './coarsen.ts';
import { differInBoxes } from './local.ts';
import type { UnmatchedFaces } from './match-faces.ts';
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
    const fine: Pair = {
      before: { body: a, changed: changedFaces(snapped.unmatched.before, before) },
      after: { body: b, changed: changedFaces(snapped.unmatched.after, after) },
      coarse: null,
    };
    const pairs = [...coarsePair(fine, snapped.unmatched, thinnest), fine];
    for (const pair of pairs) {
      const boxes = changedBoxes(markedOf(pair), diagonal, tolerance_mm);
      if (boxes.length === 0) return resultOf('none', { regions: [], slivers_mm3: 0 }, context);
      const local = attempt(() => differPair(kernel, pair, boxes, thinnest));
      const result = local && resultOf('local', local, context);
      if (result !== null && accountedFor(result, context)) return result;
    }
  }
  const whole = attempt(() => differBothWays(kernel, a, b, frameOf(a.mesh, b.mesh), thinnest, null));
  if (whole === null) return refused();
  const result = resultOf('whole', whole, context);
  return accountedFor(result, context) ? result : inconsistent();
}

/** Two bodies as they are cut, with what changed: as given, or coarse where nothing did. */
interface Pair {
  readonly before: { readonly body: Body; readonly changed: Uint8Array };
  readonly after: { readonly body: Body; readonly changed: Uint8Array };
  readonly coarse: Coarse | null;
}

/** The pair with what both share made coarse, where that can be and helps. */
function coarsePair({ before, after }: Pair, unmatched: UnmatchedFaces, thinnest: number): readonly Pair[] {
  // Where groups may overlap, coarse ones might overlap otherwise.
  if (before.body.groupOf !== null || after.body.groupOf !== null) return [];
  const sides = [
    { mesh: before.body.mesh, unmatched: unmatched.before },
    { mesh: after.body.mesh, unmatched: unmatched.after },
  ];
  if (facesOf(sides) < defaults.wholeBelowFaces) return [];
  const coarse = coarsenShared(sides, thinnest);
  if (coarse === null) return [];
  const [first, second] = coarse.sides;
  const of = ({ body, changed }: Pair['before'], { mesh, faceOf }: CoarseSide): Pair['before'] => ({
    body: { ...body, mesh },
    changed: Uint8Array.from(faceOf, f => changed[f]),
  });
  return [{ before: of(before, first), after: of(after, second), coarse }];
}

function markedOf({ before, after }: Pair): readonly Marked[] {
  return [before, after].map(({ body, changed }) => ({ mesh: body.mesh, changed }));
}

function facesOf(sides: readonly { readonly mesh: Mesh }[]): number {
  return sides.reduce((sum, { mesh }) => sum + mesh.triangles.length / 3, 0);
}

/** Cut down to the boxes where that leaves much less; null when it does not and the pair is not coarse either. */
function differPair(
  kernel: Kernel,
  pair: Pair,
  boxes: readonly ChangedBox[],
  thinnest: number,
): BothWays | null {
  const { before, after, coarse } = pair;
  if (worthCutting(markedOf(pair), boxes))
    return differInBoxes(kernel, before.body, after.body, boxes, thinnest, coarse);
  if (coarse === null) return null;
  const frame = frameOf(before.body.mesh, after.body.mesh);
  return differBothWays(kernel, before.body, after.body, frame, thinnest, coarse);
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
  const total = facesOf(marked);
  const within = marked.reduce((sum, { mesh }) => sum + facesWithin(mesh, boxes), 0);
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

/** null when the kernel refuses a piece, too. */
function attempt(work: () => BothWays | null): BothWays | null {
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
