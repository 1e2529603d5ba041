import { InputError } from '../../error.ts';
import type { MeshObject, Unit } from '../../types.ts';
import {
  addFace,
  addVertex,
  builtMesh,
  createMeshBuilder,
  type MeshBuilder,
} from '../../weld/mesh-builder.ts';
import { isPlace } from '../limits.ts';
import { toMillimeters } from '../units.ts';
import { mostPlacements, mostTriangles, threeMfLimits, type Listed } from './limits.ts';
import type { ModelObject, ModelPart, Placement, Transform } from './model.ts';
import { compose, determinant, mapped } from './transform.ts';

/** What all objects of a file share while they are put together. */
export interface Assembly {
  /** The part of this key, read when first asked for. */
  readonly part: (key: string, from: string) => ModelPart;
  readonly unit: Unit;
  /** Grows as parts are read. */
  readonly listed: Readonly<Listed>;
  /** Placed so far. */
  triangles: number;
  placements: number;
}

/** One object put together, and what there is to say about it. */
export interface Assembled {
  readonly object: MeshObject;
  /** Vertices that share their place with another one and were joined with it. */
  readonly joined: number;
  /** A placement flattens the object. */
  readonly flattened: boolean;
}

/** The object that a placement means. */
export function findObject(
  assembly: Assembly,
  home: ModelPart,
  placement: Placement,
): [ModelPart, ModelObject] {
  const part = placement.part === null ? home : assembly.part(placement.part, home.key);
  const object = part.objects.get(placement.objectId);
  if (object === undefined) {
    throw atLine(home, placement, '3mf-object', `object ${placement.objectId} is not defined`);
  }
  return [part, object];
}

/**
 * Puts together one object with all its components, nested ones too, in millimeters and welded exactly.
 *
 * The component's transform comes first, then the one of what holds it. Where a transform mirrors, the order of
 * corners is reversed, so that the outside stays outside (3MF Core Specification 1.4.0, 3.3).
 *
 * @throws {InputError} `3mf-object` for an undefined object, `3mf-cycle` for one that holds itself, `3mf-limit` when
 * components are nested too deep or multiply beyond the limits (see `threeMfLimits`), `3mf-number` for a coordinate out of range.
 */
export function assembleObject(assembly: Assembly, home: ModelPart, item: Placement): Assembled {
  const builder = createMeshBuilder();
  const open = new Set<ModelObject>();
  let listed = 0;
  let flattened = false;
  const [part, object] = findObject(assembly, home, item);
  place(part, object, item, home, item.transform);
  return {
    object: { name: object.name, mesh: builtMesh(builder) },
    joined: listed - builder.welder.count,
    flattened,
  };

  function place(
    at: ModelPart,
    what: ModelObject,
    by: Placement,
    from: ModelPart,
    transform: Transform,
  ): void {
    if (open.has(what)) throw atLine(from, by, '3mf-cycle', `object ${what.id} is a component of itself`);
    if (open.size === threeMfLimits.componentDepth) throw tooDeep(from, by);
    if (++assembly.placements > mostPlacements(assembly.listed)) throw tooManyPlacements(assembly, from, by);
    if (what.mesh !== null) {
      assembly.triangles += what.mesh.triangles.length / 3;
      if (assembly.triangles > mostTriangles(assembly.listed)) throw tooManyTriangles(assembly, from, by);
      const turned = determinant(transform);
      flattened ||= turned === 0 && what.mesh.triangles.length > 0;
      listed += placeMesh(builder, assembly.unit, what, transform, turned < 0, () =>
        atLine(from, by, '3mf-number', `object ${what.id} has a coordinate out of range once placed`),
      );
    }
    open.add(what);
    for (const component of what.components) {
      const [inner, child] = findObject(assembly, at, component);
      place(inner, child, component, at, compose(component.transform, transform));
    }
    open.delete(what);
  }
}

/** Adds a mesh to the builder; returns how many of its vertices faces use. */
function placeMesh(
  builder: MeshBuilder,
  unit: Unit,
  object: ModelObject,
  transform: Transform,
  mirrored: boolean,
  outOfRange: () => InputError,
): number {
  if (object.mesh === null) return 0;
  const { positions, triangles } = object.mesh;
  // Number in the builder plus one; 0 for vertices that no face has used yet.
  const numbers = new Uint32Array(positions.length / 3);
  let used = 0;
  for (let c = 0; c < triangles.length; c += 3) {
    const a = numberOf(triangles[c]);
    const b = numberOf(triangles[c + 1]);
    const d = numberOf(triangles[c + 2]);
    addFace(builder, a, mirrored ? d : b, mirrored ? b : d);
  }
  return used;

  function numberOf(vertex: number): number {
    if (numbers[vertex] !== 0) return numbers[vertex] - 1;
    used++;
    const [px, py, pz] = [positions[3 * vertex], positions[3 * vertex + 1], positions[3 * vertex + 2]];
    const x = toMillimeters(mapped(transform, px, py, pz, 0), unit);
    const y = toMillimeters(mapped(transform, px, py, pz, 1), unit);
    const z = toMillimeters(mapped(transform, px, py, pz, 2), unit);
    if (!isPlace(x) || !isPlace(y) || !isPlace(z)) throw outOfRange();
    const number = addVertex(builder, x, y, z);
    numbers[vertex] = number + 1;
    return number;
  }
}

function tooDeep(part: ModelPart, placement: Placement): InputError {
  const what = `components are nested more than ${threeMfLimits.componentDepth} deep`;
  return atLine(part, placement, '3mf-limit', what, 'Export the part as one mesh.');
}

function tooManyPlacements({ listed }: Assembly, part: ModelPart, placement: Placement): InputError {
  const { freePlacements, placementsPerObject, placements } = threeMfLimits;
  const what = `items and components multiply to more than ${mostPlacements(listed)} placements of the ${listed.objects} objects listed`;
  const remedy =
    `Up to ${freePlacements} placements are read, or ${placementsPerObject} for each object listed up to ` +
    `${placements}: export fewer copies, or one mesh for each part.`;
  return atLine(part, placement, '3mf-limit', what, remedy);
}

function tooManyTriangles({ listed }: Assembly, part: ModelPart, placement: Placement): InputError {
  const { freeTriangles, trianglesPerListed, triangles } = threeMfLimits;
  const what = `items and components multiply the ${listed.triangles} triangles listed to more than ${mostTriangles(listed)}`;
  const remedy =
    `Up to ${freeTriangles} placed triangles are read, or ${trianglesPerListed} for each one listed up to ` +
    `${triangles}: export fewer copies, or split the plate into several files.`;
  return atLine(part, placement, '3mf-limit', what, remedy);
}

function atLine(
  part: ModelPart,
  placement: Placement,
  code: string,
  what: string,
  remedy = 'Export the file again.',
): InputError {
  return new InputError(code, `${part.key}: ${what}`, remedy, { line: placement.line });
}
