import { findFeatures } from '../features/find-features.ts';
import type { Feature, Measurement } from '../measurement.ts';
import { overhang, type Overhang } from '../overhang/overhang.ts';
import { faceAdjacency } from '../topology/face-adjacency.ts';
import { buildTree } from '../tree/build.ts';
import type { TriangleTree } from '../tree/tree.ts';
import type { MeshFile, MeshObject, Note, Vec3 } from '../types.ts';
import { thinnestWalls, type ThinnestWalls } from '../walls/thinnest-walls.ts';
import { analyze } from './analyze.ts';
import { facingOf, type Facing } from './facing.ts';
import { figuresOf } from './measure-core.ts';
import { withSelfIntersections } from './self-intersections.ts';

const Z: Vec3 = [0, 0, 1];

/** Which of the slower figures to leave out; each is then null or empty, with a note. All are measured by default. */
export interface MeasureOptions {
  readonly selfIntersections?: boolean;
  readonly features?: boolean;
  readonly walls?: boolean;
  readonly overhang?: boolean;
  /** Build direction for overhang and bed contact; default z. */
  readonly up?: Vec3;
}

/**
 * Everything `kinprint measure` says about one object of a file: `measureCore` and self-intersections, features,
 * thinnest walls, overhang and bed contact for the build direction.
 *
 * Never throws for unsound geometry: a figure without meaning is null and a note says why.
 */
export function measure(object: MeshObject, file: MeshFile, options: MeasureOptions = {}): Measurement {
  const analysis = analyze(object.mesh);
  const { core, solid } = figuresOf(analysis);
  const notes: Note[] = [...file.notes, ...core.notes];
  let { soundness } = core;
  const facing = facingOf(analysis, solid);
  const trees = treesOf(object, facing);

  if (options.selfIntersections !== false) {
    const completed = withSelfIntersections(analysis, soundness, trees.own(), core.volume_mm3 !== null);
    soundness = completed.soundness;
    replaceNote(notes, 'self-intersections-not-computed', completed.notes);
  }
  notes.push(...facing.notes);
  const neighbors = lazily(() => faceAdjacency(facing.mesh, facing.pairs));
  const features = featuresOf(facing, neighbors, options, notes);
  const walls = wallsOf(facing, trees.facing, neighbors, options, notes);
  const standing = overhangOf(facing, options, notes);

  return {
    name: object.name,
    format: file.format,
    unit: file.unit,
    unit_assumed: file.unitAssumed,
    ...core,
    soundness,
    features,
    thinnest_wall_mm: walls.thinnest_mm,
    thin_places: walls.places,
    ...standing,
    up: options.up ?? Z,
    notes,
  };
}

function featuresOf(
  facing: Facing,
  neighbors: () => Int32Array,
  options: MeasureOptions,
  notes: Note[],
): readonly Feature[] {
  if (options.features === false) {
    notes.push({ code: 'features-not-computed', text: 'Features were not looked for.', about: 'features' });
    return [];
  }
  if (facing.doubt !== null && facing.mesh.triangles.length > 0) {
    const text = `Bores and pins may be taken for each other: ${facing.doubt}.`;
    notes.push({ code: 'features-uncertain', text, about: 'features' });
  }
  return findFeatures(facing.mesh, neighbors());
}

function wallsOf(
  facing: Facing,
  tree: () => TriangleTree,
  neighbors: () => Int32Array,
  options: MeasureOptions,
  notes: Note[],
): Pick<ThinnestWalls, 'thinnest_mm' | 'places'> {
  const about = 'thinnest_wall_mm';
  if (options.walls === false) {
    notes.push({ code: 'walls-not-computed', text: 'The thinnest walls were not looked for.', about });
    return { thinnest_mm: null, places: [] };
  }
  if (facing.doubt !== null) {
    notes.push({ code: 'no-walls-side', text: `It cannot be told where walls are: ${facing.doubt}.`, about });
    return { thinnest_mm: null, places: [] };
  }
  const walls = thinnestWalls(facing.mesh, tree(), { neighbors: neighbors() });
  notes.push(...walls.notes);
  return walls;
}

function overhangOf(facing: Facing, options: MeasureOptions, notes: Note[]): Overhang {
  const about = 'overhang_area_mm2';
  if (options.overhang === false) {
    notes.push({ code: 'overhang-not-computed', text: 'Overhang and bed contact were not measured.', about });
    return { overhang_area_mm2: null, bed_contact_mm2: null };
  }
  if (facing.doubt !== null) {
    const text = `It cannot be told what hangs over and what stands on the bed: ${facing.doubt}.`;
    notes.push({ code: 'no-overhang-side', text, about });
    return { overhang_area_mm2: null, bed_contact_mm2: null };
  }
  const standing = overhang(facing.mesh, { up: options.up ?? Z });
  if (standing.overhang_area_mm2 === null) {
    notes.push({ code: 'no-overhang-area', text: 'The mesh has no area that could hang over.', about });
  }
  return standing;
}

/** The trees of the mesh as it is and as it faces: the same unless it was closed or turned over. */
function treesOf(
  object: MeshObject,
  facing: Facing,
): { own: () => TriangleTree; facing: () => TriangleTree } {
  const own = lazily(() => buildTree(object.mesh));
  return { own, facing: facing.mesh === object.mesh ? own : lazily(() => buildTree(facing.mesh)) };
}

/** Made when first asked for, once. */
function lazily<T>(make: () => T): () => T {
  let made: { readonly value: T } | null = null;
  return () => (made ??= { value: make() }).value;
}

function replaceNote(notes: Note[], code: string, by: readonly Note[]): void {
  const at = notes.findIndex(note => note.code === code);
  notes.splice(at < 0 ? notes.length : at, at < 0 ? 0 : 1, ...by);
}
