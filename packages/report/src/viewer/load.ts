import { buildTree, type Mesh, type TriangleTree, type Vec3 } from '@kinprint/mesh';
import { unpackMeshes } from '../geometry/unpack.ts';
import { axisBounds } from '../pictures/axis-bounds.ts';
import { surfaceOf, type Surface } from '../pictures/surface.ts';
import type { PartData, Side } from '../review-page/part-data.ts';
import { lengthOf, mix } from './vector.ts';

/** One surface of a part, with what is made of it when it is first asked for. */
export interface Shape {
  readonly mesh: Mesh;
  readonly surface: () => Surface;
  readonly tree: () => TriangleTree;
  readonly center_mm: Vec3;
}

/** A part that is looked at. */
export interface Part {
  readonly data: PartData;
  readonly sides: ReadonlyMap<Side, Shape>;
  /** In the order of `data.regions`. */
  readonly regions: readonly Shape[];
  readonly min_mm: Vec3;
  readonly max_mm: Vec3;
  readonly center_mm: Vec3;
  /** Along the axes; of the larger one, where each side stands for itself. */
  readonly extent_mm: Vec3;
  /** Its diagonal. */
  readonly size_mm: number;
}

/** @throws Error where the page was damaged */
export async function loadPart(text: string): Promise<Part> {
  const data = JSON.parse(text) as PartData;
  const meshes = await unpackMeshes(data.geometry);
  const sides = new Map(data.sides.map((side, k) => [side, shapeOf(meshes[k])]));
  const shown = meshes.slice(0, data.sides.length);
  const { min, max } = axisBounds(shown);
  // Where each stands for itself, they are looked at one by one.
  const boxes = data.apart ? shown.map(mesh => axisBounds([mesh])) : [{ min, max }];
  const along = (k: number): number => Math.max(...boxes.map(box => box.max[k] - box.min[k]));
  const extent_mm: Vec3 = [along(0), along(1), along(2)];
  return {
    data,
    sides,
    regions: meshes.slice(data.sides.length).map(shapeOf),
    min_mm: min,
    max_mm: max,
    center_mm: mix(min, max, 0.5),
    extent_mm,
    size_mm: lengthOf(extent_mm),
  };
}

function shapeOf(mesh: Mesh): Shape {
  const { min, max } = axisBounds([mesh]);
  return {
    mesh,
    surface: once(() => surfaceOf(mesh)),
    tree: once(() => buildTree(mesh)),
    center_mm: mix(min, max, 0.5),
  };
}

function once<T>(make: () => T): () => T {
  let made: { value: T } | null = null;
  return () => (made ??= { value: make() }).value;
}
