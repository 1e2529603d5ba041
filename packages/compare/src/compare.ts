import { type Measurement, type Mesh, type Note, seamClosed, transformMesh } from '@kinprint/mesh';
import type { CarriedBodies } from './bodies/compare-bodies.ts';
import type { Alignment, Comparison, Deviation, Side, Verdict } from './comparison.ts';
import { compareDefaults } from './defaults.ts';
import { deviationAcross } from './deviation/deviation.ts';
import { featureChanges } from './features/changes.ts';
import { carryFeature } from './features/carry.ts';
import { noAlignment } from './fixed-alignments.ts';
import { alone, both, type Helpers } from './helpers.ts';
import type { MaterialWork } from './material.ts';
import { describePiece } from './regions/describe.ts';
import { pairDiagonal, pairTolerance, relateShapes } from './relate-shapes.ts';
import { chordNote, crossingNote, holeNote, tessellationNote, turnedNote } from './notes.ts';

/** One side of a comparison: a mesh in millimeters and what was measured of it. */
export interface Measured {
  readonly mesh: Mesh;
  readonly measurement: Measurement;
}

/** The solids that a comparison looked at, all in the frame of AFTER. */
export interface ComparedShapes {
  /** BEFORE, carried into the frame of AFTER; body by body where bodies moved by themselves. */
  readonly carried: Mesh;
  /** The closed surface of each of the comparison's `regions`, in the same order. */
  readonly regions: readonly Mesh[];
}

/** One side whose measurement may still be going on in another thread; asked for once it is needed. */
export interface Measuring {
  readonly mesh: Mesh;
  readonly measurement: () => Promise<Measurement>;
  /** `volume_mm3` of the measurement: needed before the rest of it. */
  readonly volume: () => Promise<number | null>;
}

export interface CompareOptions {
  /** Surfaces within this distance are the same; default `sameTolerance(diagonal)`. */
  readonly tolerance_mm?: number;
  /** Compare where the meshes stand. */
  readonly asPlaced?: boolean;
  readonly density_g_cm3?: number;
}

/**
 * What really changed between two meshes.
 *
 * Steps: the same triangles? else align (motion, reflection, scale; body by body where files hold several); the
 * same surface within the tolerance? else measure the deviation with a proven bound, take exact booleans where
 * the surfaces differ, and tell which features changed.
 *
 * @param findMaterial the booleans; called only when material changed
 * @param helpers other threads that may do parts of it; the result is the same, to the last bit
 * @param keep takes the solids that were compared; not called where BEFORE was not carried anywhere: the triangles are
 *   the same, or no alignment was found
 * @throws nothing for unsound meshes: what cannot be said is null, with a note
 */
export async function compareMeshes(
  findMaterial: MaterialWork,
  before: Measured | Measuring,
  after: Measured | Measuring,
  options: CompareOptions = {},
  helpers: Helpers = alone,
  keep: (shapes: ComparedShapes) => void = () => undefined,
): Promise<Comparison> {
  const tolerance_mm = options.tolerance_mm ?? pairTolerance(before.mesh, after.mesh);
  const asPlaced = options.asPlaced ?? false;
  const relation = relateShapes(before.mesh, after.mesh, { tolerance_mm, asPlaced });
  const notes: Note[] = [...relation.notes];
  switch (relation.kind) {
    case 'identical': {
      const { draft } = await measured();
      return {
        ...draft,
        verdict: 'identical',
        alignment: relation.alignment,
        deviation: noDeviation(after.mesh),
        volume: { ...draft.volume, ...nothing },
      };
    }
    case 'empty': {
      const { draft } = await measured();
      return { ...draft, verdict: 'replaced', notes: [...draft.notes, ...notes] };
    }
    case 'aligned':
      return finish(relation.verdict, relation.alignment, relation.bodies);
  }

  async function measured(): Promise<{ draft: Comparison; of: { before: Measurement; after: Measurement } }> {
    const [b, a] = await both(measurementOf, [before, after]);
    return { draft: outline(b, a, tolerance_mm, options), of: { before: b, after: a } };
  }

  async function finish(
    aligned: Verdict,
    alignment: Alignment,
    bodies: CarriedBodies | null,
  ): Promise<Comparison> {
    const lines = bodies?.lines ?? [];
    if (aligned === 'replaced' && !asPlaced) {
      const { draft } = await measured();
      const note: Note = {
        code: 'no-alignment',
        text: 'No alignment was found, so deviation, added and removed material have no meaning.',
        about: 'deviation',
      };
      const all = [...draft.notes, ...notes, note];
      return { ...draft, bodies: lines, verdict: 'replaced', alignment: noAlignment, notes: all };
    }
    notes.push(...turnedNote(alignment));
    const carried = bodies?.carried ?? transformMesh(before.mesh, alignment.matrix);
    keep({ carried, regions: [] });
    const [treeBefore, treeAfter] = await both(helpers.tree, [carried, after.mesh]);
    const gap = await deviationAcross(carried, after.mesh, { tolerance_mm, treeBefore, treeAfter }, helpers);
    const reshaped = aligned === 'reworked' || aligned === 'replaced';
    const solid = reshaped && !(await both(volumeOf, [before, after])).includes(null);
    // Where measuring closed a seam to get a volume, the booleans need the same closed surface.
    const material = solid
      ? await findMaterial(seamClosed(carried), seamClosed(after.mesh), {
          tolerance_mm,
          changedBefore: gap.changedBefore,
          changedAfter: gap.changedAfter,
        })
      : null;
    // Only now: until here other threads may have been measuring.
    const { draft, of } = await measured();
    notes.unshift(...draft.notes);
    const base = { ...draft, alignment, bodies: lines };
    const features = {
      before: of.before.features.flatMap(f => carryFeature(f, bodies?.motionAt(f.at_mm) ?? alignment) ?? []),
      after: of.after.features,
    };
    const changes = featureChanges(
      features.before,
      features.after,
      tolerance_mm,
      pairDiagonal(before.mesh, after.mesh),
      of.after.area_mm2,
    );
    const told: Comparison = {
      ...base,
      deviation: gap.deviation,
      features: changes,
      verdict: aligned,
      notes,
    };
    if (!reshaped) {
      notes.push(...tessellationNote(of.before, of.after, alignment, gap.deviation));
      return {
        ...told,
        features: { changed: [], added: [], removed: [] },
        volume: hasVolumes(draft) ? { ...draft.volume, ...nothing } : draft.volume,
      };
    }
    if (material === null && solid) {
      const note: Note = {
        code: 'material-not-finished',
        text:
          'Added and removed material were given up: they took too long or too much memory. The surfaces may ' +
          'cross themselves very often.',
        about: 'volume',
      };
      return { ...told, notes: distinct([...notes, note]) };
    }
    if (material === null) {
      notes.push(...holeNote(of.before, of.after));
      return { ...told, notes: distinct(notes), verdict: 'unsound' };
    }
    notes.push(
      ...material.notes,
      ...crossingNote(of.before, of.after),
      ...chordNote(told, pairDiagonal(before.mesh, after.mesh)),
    );
    const described = material.regions
      .map((piece, _, { length }) => ({
        region: describePiece(piece, piece.kind === 'added' ? treeBefore : treeAfter, features, length),
        mesh: piece.mesh,
      }))
      .sort((p, q) => q.region.volume_mm3 - p.region.volume_mm3);
    const regions = described.map(({ region }) => region);
    keep({ carried, regions: described.map(({ mesh }) => mesh) });
    const volume = { ...draft.volume, added_mm3: material.added_mm3, removed_mm3: material.removed_mm3 };
    return {
      ...told,
      regions,
      volume,
      notes: distinct(notes),
      verdict: material.added_mm3 === null ? 'unsound' : aligned,
    };
  }
}

function measurementOf({ measurement }: Measured | Measuring): () => Promise<Measurement> {
  return typeof measurement === 'function' ? measurement : () => Promise.resolve(measurement);
}

function volumeOf(side: Measured | Measuring): () => Promise<number | null> {
  return 'volume' in side ? side.volume : () => Promise.resolve(side.measurement.volume_mm3);
}

function hasVolumes({ volume }: Comparison): boolean {
  return volume.before_mm3 !== null && volume.after_mm3 !== null;
}

/** Notes said once. */
function distinct(notes: readonly Note[]): Note[] {
  return notes.filter((n, k) => notes.findIndex(m => m.code === n.code && m.text === n.text) === k);
}

const nothing = { added_mm3: 0, removed_mm3: 0 };

/** Everything that needs no alignment. */
function outline(
  before: Measurement,
  after: Measurement,
  tolerance_mm: number,
  options: CompareOptions,
): Comparison {
  const density = options.density_g_cm3 ?? compareDefaults.density_g_cm3;
  const grams = (mm3: number | null): number | null =>
    mm3 === null ? null : (Math.abs(mm3) * density) / 1000;
  const before_g = grams(before.volume_mm3);
  const after_g = grams(after.volume_mm3);
  const prefixed = (m: Measurement, side: string): Note[] =>
    m.notes.filter(n => !n.code.startsWith('unit-assumed')).map(n => ({ ...n, text: `${side}: ${n.text}` }));
  return {
    verdict: 'replaced',
    tolerance_mm,
    before: side(before),
    after: side(after),
    alignment: noAlignment,
    deviation: null,
    volume: {
      before_mm3: before.volume_mm3,
      after_mm3: after.volume_mm3,
      added_mm3: null,
      removed_mm3: null,
    },
    area: { before_mm2: before.area_mm2, after_mm2: after.area_mm2 },
    regions: [],
    features: { changed: [], added: [], removed: [] },
    thinnest_wall: {
      before_mm: before.thinnest_wall_mm,
      after_mm: after.thinnest_wall_mm,
      after_at: after.thin_places[0] ?? null,
    },
    overhang: { before_mm2: before.overhang_area_mm2, after_mm2: after.overhang_area_mm2 },
    soundness: { before: before.soundness, after: after.soundness },
    mass: {
      density_g_cm3: density,
      before_g,
      after_g,
      change_g: before_g === null || after_g === null ? null : after_g - before_g,
    },
    bodies: [],
    notes: [...prefixed(before, 'Before'), ...prefixed(after, 'After')],
  };
}

function side(m: Measurement): Side {
  return {
    triangles: m.triangles,
    vertices: m.vertices,
    shells: m.shells,
    area_mm2: m.area_mm2,
    size_mm: m.bounds_mm?.size ?? null,
  };
}

function noDeviation(mesh: Mesh): Deviation | null {
  if (mesh.triangles.length === 0) return null;
  const k = 3 * mesh.triangles[0];
  const at = [mesh.positions[k], mesh.positions[k + 1], mesh.positions[k + 2]] as const;
  return { max_mm: 0, max_error_mm: 0, mean_mm: 0, rms_mm: 0, p95_mm: 0, max_at_mm: at, max_from: 'before' };
}
