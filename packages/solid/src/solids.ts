import type { Mesh } from '@kinprint/mesh';
import { fromManifold, toManifold } from './convert.ts';
import { frameOf } from './frame.ts';
import { withSolids, type Kernel } from './kernel.ts';

/**
 * Volume of the material, in mm³: places where shells overlap count once, shells that are inside out count as turned.
 *
 * @throws InputError `not-a-solid` when the mesh encloses no volume.
 */
export function volumeOf(kernel: Kernel, mesh: Mesh): number {
  const frame = frameOf(mesh);
  return withSolids(keep => keep(toManifold(kernel, mesh, frame)).volume() / frame.scale ** 3);
}

/** The solid made of everything inside any of the meshes. Same errors as `volumeOf`. */
export function union(kernel: Kernel, meshes: readonly Mesh[]): Mesh {
  const frame = frameOf(...meshes);
  return withSolids(keep => {
    const solids = meshes.map(mesh => keep(toManifold(kernel, mesh, frame)));
    return fromManifold(keep(kernel.api.Manifold.union(solids)), frame);
  });
}

/** What is inside `mesh` but outside `tool`. Same errors as `volumeOf`. */
export function subtract(kernel: Kernel, mesh: Mesh, tool: Mesh): Mesh {
  const frame = frameOf(mesh, tool);
  return withSolids(keep => {
    const solid = keep(toManifold(kernel, mesh, frame));
    return fromManifold(keep(solid.subtract(keep(toManifold(kernel, tool, frame)))), frame);
  });
}

/** What is inside both meshes. Same errors as `volumeOf`. */
export function intersection(kernel: Kernel, a: Mesh, b: Mesh): Mesh {
  const frame = frameOf(a, b);
  return withSolids(keep => {
    const solid = keep(toManifold(kernel, a, frame));
    return fromManifold(keep(solid.intersect(keep(toManifold(kernel, b, frame)))), frame);
  });
}

/** Volume of what is inside both meshes, in mm³. Same errors as `volumeOf`. */
export function intersectionVolume(kernel: Kernel, a: Mesh, b: Mesh): number {
  const frame = frameOf(a, b);
  return withSolids(keep => {
    const solid = keep(toManifold(kernel, a, frame));
    return keep(solid.intersect(keep(toManifold(kernel, b, frame)))).volume() / frame.scale ** 3;
  });
}
