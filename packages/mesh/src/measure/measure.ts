import { findFeatures } from '../features/find-features.ts';
import type { Feature, Measurement } from '../measurement.ts';
import { faceAdjacency } from '../topology/face-adjacency.ts';
import { buildTree } from '../tree/build.ts';
import type { TriangleTree } from '../tree/tree.ts';
import type { MeshFile, MeshObject, Note } from '../types.ts';
import { analyze } from './analyze.ts';
import { facingOf, type Facing } from './facing.ts';
import { figuresOf } from './measure-core.ts';
import { withSelfIntersections } from './self-intersections.ts';

/** Which of the slower figures to leave out; each is then null or empty, with a note. All are measured by default. */
export interface MeasureOptions {
  readonly selfIntersections?: boolean;
  readonly features?: boolean;
}

/**
 * Everything `kinprint measure` says about one object of a file: `measureCore` and self-intersections, features,
 * thinnest walls, overhang and bed contact for z up as the file stands.
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
  const features = featuresOf(facing, options, notes);

  return {
    name: object.name,
    format: file.format,
    unit: file.unit,
    unit_assumed: file.unitAssumed,
    ...core,
    soundness,
    features,
    thinnest_wall_mm: null,
    thin_places: [],
    overhang_area_mm2: null,
    bed_contact_mm2: null,
    notes,
  };
}

function featuresOf(facing: Facing, options: MeasureOptions, notes: Note[]): readonly Feature[] {
  if (options.features === false) {
    notes.push({ code: 'features-not-computed', text: 'Features were not looked for.', about: 'features' });
    return [];
  }
  if (facing.doubt !== null) {
    const text = `Bores and pins may be taken for each other: ${facing.doubt}.`;
    notes.push({ code: 'features-uncertain', text, about: 'features' });
  }
  return findFeatures(facing.mesh, faceAdjacency(facing.mesh, facing.pairs));
}

/** The trees of the mesh as it is and as it faces: the same unless it was closed or turned over. */
function treesOf(
  object: MeshObject,
  facing: Facing,
): { own: () => TriangleTree; facing: () => TriangleTree } {
  const lazily = (build: () => TriangleTree) => {
    let tree: TriangleTree | null = null;
    return () => (tree ??= build());
  };
  const own = lazily(() => buildTree(object.mesh));
  return { own, facing: facing.mesh === object.mesh ? own : lazily(() => buildTree(facing.mesh)) };
}

function replaceNote(notes: Note[], code: string, by: readonly Note[]): void {
  const at = notes.findIndex(note => note.code === code);
  notes.splice(at < 0 ? notes.length : at, at < 0 ? 0 : 1, ...by);
}
