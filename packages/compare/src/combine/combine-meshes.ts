import {
  buildTree,
  crossingPairs,
  InputError,
  measureMesh,
  seamClosed,
  type Measurement,
  type Mesh,
  type Note,
  type Vec3,
} from '@kinprint/mesh';
import {
  combineSolids,
  defaults as solidDefaults,
  findContact,
  proveCombination,
  type Applied,
  type Contact,
  type Kernel,
  type Remix,
  type SolidProof,
  type Take,
} from '@kinprint/solid';
import { sameTolerance } from '../defaults.ts';
import { bodyMeshes } from '../trees/shape-summary.ts';
import { crossingNotes } from './crossing-notes.ts';
import { chosenTakes, noChoices, type Choices } from './choices.ts';
import type {
  Combination,
  CombinedChange,
  CombineConflict,
  CombineInput,
  CombineProof,
  CombineRemix,
  Fate,
} from './combination.ts';
import { placeRemix, type PlacedRemix } from './place-remix.ts';
import { tessellatedAnew } from './tessellated.ts';
import { remixChanges, volumeOf, type ToldChanges } from './remix-changes.ts';

export interface CombineMeshOptions {
  /** Surfaces within this distance are the same; default `sameTolerance(diagonal)`. */
  readonly tolerance_mm?: number;
  /** Changes nearer to each other than this touch. */
  readonly touch_mm?: number;
  /** Take the remixes where they stand. */
  readonly asPlaced?: boolean;
}

/** A mesh in millimeters, what was measured of it, and what to call it in messages. */
export interface CombineSource {
  readonly name: string;
  readonly mesh: Mesh;
  readonly measurement: Measurement;
}

/** The combination, with the result as it is written; null while a conflict is open. */
export interface CombinedMeshes<Written> {
  readonly combination: Combination;
  readonly written: Written | null;
}

/**
 * The result as a file would hold it, and that read again.
 */
export type WriteMesh<Written> = (mesh: Mesh) => { readonly written: Written; readonly mesh: Mesh };

/** Two remixes whose changes and conflicts are known: what is chosen is all that is left to say. */
export interface OpenCombination {
  /**
   * The combination with what was chosen; may be asked again with other choices.
   *
   * @throws InputError `conflict-unknown`, `combine-refused`
   */
  settle<Written>(this: void, choices: Choices, write: WriteMesh<Written>): CombinedMeshes<Written>;
}

/**
 * Brings two remixes of one base together.
 *
 * Both are laid over the base; what each added and removed is found piece by piece; where pieces of both touch they
 * are a conflict, unless they are the same change. With every conflict settled, the changes are applied to the base.
 * The result is handed to `write`, and what comes back, read again from the bytes, is proven against the inputs.
 *
 * @throws InputError, placed in the source it concerns, for what cannot be combined
 */
export function openCombination(
  kernel: Kernel,
  sources: Readonly<Record<'base' | Remix, CombineSource>>,
  options: CombineMeshOptions,
): OpenCombination {
  const { base } = sources;
  const inputs = { base: inputOf(base), a: inputOf(sources.a), b: inputOf(sources.b) };
  const diagonal = Math.max(...Object.values(inputs).map(input => Math.hypot(...input.size_mm)));
  const tolerance_mm = options.tolerance_mm ?? sameTolerance(diagonal);
  const touch_mm = Math.max(options.touch_mm ?? solidDefaults.touch_mm, tolerance_mm);
  const baseMesh = seamClosed(base.mesh);
  const baseSide = { mesh: baseMesh, measurement: base.measurement, tree: buildTree(baseMesh) };

  const remixOf = (side: Remix) =>
    inFile(sources[side].name, () => {
      const { mesh, measurement } = sources[side];
      const placed = placeRemix(baseMesh, seamClosed(mesh), tolerance_mm, options.asPlaced ?? false);
      const tree = buildTree(placed.mesh);
      return { placed, told: remixChanges(kernel, baseSide, { placed, measurement, tree }, tolerance_mm) };
    });
  const remixes = { a: remixOf('a'), b: remixOf('b') };
  const changes = { a: remixes.a.told, b: remixes.b.told };
  const contact = findContact(kernel, baseMesh, changes.a.pieces, changes.b.pieces, {
    tolerance_mm,
    touch_mm,
  });
  const meshes = { base: baseMesh, a: remixes.a.placed.mesh, b: remixes.b.placed.mesh };
  const outlineWith = (takes: readonly (Take | null)[]): Omit<Combination, 'result' | 'proof'> => ({
    tolerance_mm,
    touch_mm,
    base: inputs.base,
    a: remixFigures(inputs.a, remixes.a),
    b: remixFigures(inputs.b, remixes.b),
    changes: changesTold(changes, contact, takes),
    conflicts: contact.conflicts.map((conflict, k) => conflictTold(conflict, changes, k, takes[k])),
    nearest: contact.nearest && {
      a: idOf('a', contact.nearest.a),
      b: idOf('b', contact.nearest.b),
      gap_mm: contact.nearest.gap_mm,
    },
    tessellated: tessellatedAnew([...changes.a.regions, ...changes.b.regions]),
    notes: [...changes.a.notes, ...changes.b.notes],
  });

  let crossing: readonly Note[] | null = null;
  function settle<Written>(choices: Choices, write: WriteMesh<Written>): CombinedMeshes<Written> {
    const takes = chosenTakes(choices, contact.conflicts.length);
    const outline = outlineWith(takes);
    const settled = takes.flatMap(take => take ?? []);
    if (settled.length < takes.length) {
      crossing ??= crossingNotes(meshes);
      const notes = [...outline.notes, ...crossing];
      return { combination: { ...outline, notes, result: null, proof: null }, written: null };
    }

    const made = combineSolids(kernel, meshes, changes, contact, settled, tolerance_mm);
    const { written, mesh } = write(made.mesh);
    const measurement = measureMesh(mesh, { walls: false, overhang: false, features: false });
    const solid = proveCombination(
      kernel,
      meshes,
      changes,
      made.applied,
      (side, index) => contact.agreements.some(same => same[side] === index),
      mesh,
      tolerance_mm,
    );
    const result = {
      ...inputFigures(mesh, measurement, Math.abs(measurement.volume_mm3 ?? 0)),
      same_as: made.copied,
      exact: made.exact,
      soundness: measurement.soundness,
    };
    const crossings = crossingsTold(measurement, meshes);
    const proof = proofTold(solid, changes, made.applied, result, inputs, measurement, crossings);
    return { combination: { ...outline, result, proof }, written };
  }
  return { settle };
}

/** The same at once, with what is chosen known from the start. */
export function combineMeshes<Written>(
  kernel: Kernel,
  sources: Readonly<Record<'base' | Remix, CombineSource>>,
  options: CombineMeshOptions & { readonly choices?: Choices },
  write: WriteMesh<Written>,
): CombinedMeshes<Written> {
  return openCombination(kernel, sources, options).settle(options.choices ?? noChoices, write);
}

/** Crossing faces of the result; those of the inputs as well, where there are any, since they may come from there. */
function crossingsTold(
  { soundness }: Measurement,
  meshes: Readonly<Record<'base' | Remix, Mesh>>,
): CombineProof['crossings'] {
  const found = soundness.self_intersections ?? 0;
  const of = (mesh: Mesh) => (found === 0 ? null : crossingPairs(mesh).pairs.length / 2);
  return { found, base: of(meshes.base), a: of(meshes.a), b: of(meshes.b), holds: found === 0 };
}

function inFile<T>(name: string, work: () => T): T {
  try {
    return work();
  } catch (error) {
    throw error instanceof InputError ? error.inFile(name) : error;
  }
}

function inputOf({ name, mesh, measurement }: CombineSource): CombineInput {
  return inFile(name, () => inputFigures(mesh, measurement, volumeOf(measurement)));
}

function inputFigures(mesh: Mesh, measurement: Measurement, volume_mm3: number): CombineInput {
  return {
    triangles: measurement.triangles,
    bodies: bodyMeshes(mesh).length,
    volume_mm3,
    size_mm: measurement.bounds_mm?.size ?? [0, 0, 0],
  };
}

function remixFigures(
  input: CombineInput,
  { placed, told }: { readonly placed: PlacedRemix; readonly told: ToldChanges },
): CombineRemix {
  const sum = (kind: 'added' | 'removed') =>
    told.regions.reduce((all, region) => all + (region.kind === kind ? region.volume_mm3 : 0), 0);
  return {
    ...input,
    alignment: placed.alignment,
    added_mm3: sum('added'),
    removed_mm3: sum('removed'),
  };
}

function idOf(side: Remix, index: number): string {
  return `${side}${index + 1}`;
}

function changesTold(
  changes: Readonly<Record<Remix, ToldChanges>>,
  { conflicts, agreements }: Contact,
  takes: readonly (Take | null)[],
): CombinedChange[] {
  return (['a', 'b'] as const).flatMap(side =>
    changes[side].regions.map((region, index): CombinedChange => {
      const conflict = conflicts.findIndex(({ pieces }) => pieces[side].includes(index));
      const same = agreements.find(each => each[side] === index);
      const other = side === 'a' ? 'b' : 'a';
      return {
        ...region,
        id: idOf(side, index),
        side,
        fate: same !== undefined ? 'agreed' : conflict < 0 ? 'taken' : fateUnder(takes[conflict], side),
        conflict: conflict < 0 ? null : conflict + 1,
        twin: same === undefined ? null : idOf(other, same[other]),
      };
    }),
  );
}

function fateUnder(take: Take | null, side: Remix): Fate {
  switch (take) {
    case null:
      return 'open';
    case 'both':
      return 'taken';
    case 'none':
      return 'left';
    case 'a':
    case 'b':
      return take === side ? 'taken' : 'left';
  }
}

function conflictTold(
  { kind, pieces, overlap_mm3, gap_mm }: Contact['conflicts'][number],
  changes: Readonly<Record<Remix, ToldChanges>>,
  index: number,
  take: Take | null,
): CombineConflict {
  const boxes = (['a', 'b'] as const).flatMap(side =>
    pieces[side].map(k => changes[side].regions[k].bounds_mm),
  );
  const corner = (end: 'min' | 'max'): Vec3 => {
    const of = (k: 0 | 1 | 2) => Math[end](...boxes.map(box => box[end][k]));
    return [of(0), of(1), of(2)];
  };
  const [min, max] = [corner('min'), corner('max')];
  return {
    number: index + 1,
    kind,
    changes: { a: pieces.a.map(k => idOf('a', k)), b: pieces.b.map(k => idOf('b', k)) },
    bounds_mm: { min, max },
    at_mm: [(min[0] + max[0]) / 2, (min[1] + max[1]) / 2, (min[2] + max[2]) / 2],
    overlap_mm3,
    gap_mm,
    take,
  };
}

function proofTold(
  { by, presence, balances }: SolidProof,
  changes: Readonly<Record<Remix, ToldChanges>>,
  applied: readonly Applied[],
  result: CombineInput,
  inputs: Readonly<Record<'base' | Remix, CombineInput>>,
  { soundness, volume_mm3 }: Measurement,
  crossings: CombineProof['crossings'],
): CombineProof {
  const told = presence.map(({ side, index, wanted, present_mm3, whole }) => ({
    id: idOf(side, index),
    wanted,
    volume_mm3: changes[side].regions[index].volume_mm3,
    present_mm3,
    holds: !wanted || whole,
  }));
  const bodies = expectedBodies(result, inputs, applied.length > 0);
  const watertight = soundness.watertight && (volume_mm3 ?? 0) > 0;
  const holds =
    told.every(each => each.holds) &&
    balances.every(each => each.holds) &&
    watertight &&
    crossings.holds &&
    bodies.holds;
  return { holds, by, changes: told, balances, watertight, crossings, bodies };
}

/** As many bodies as one of the inputs has, or as many more than the base as both remixes have together. */
function expectedBodies(
  result: CombineInput,
  { base, a, b }: Readonly<Record<'base' | Remix, CombineInput>>,
  changed: boolean,
): CombineProof['bodies'] {
  const counts = [base.bodies, a.bodies, b.bodies, a.bodies + b.bodies - base.bodies];
  const [least, most] = changed
    ? [Math.max(1, Math.min(...counts)), Math.max(...counts)]
    : [base.bodies, base.bodies];
  return { found: result.bodies, least, most, holds: result.bodies >= least && result.bodies <= most };
}
