import type { Mesh } from '@kinprint/mesh';
import { bodyOf } from '../body.ts';
import type { Kernel } from '../kernel.ts';
import { findShells } from '../shells.ts';
import { mapped } from '../testing/shapes.ts';
import { combineSolids } from './combine.ts';
import { findContact } from './contact.ts';
import { findChanges } from './find-changes.ts';
import { proveCombination } from './prove.ts';
import type { Conflict, Take } from './types.ts';

export const options = { tolerance_mm: 1e-3, touch_mm: 0.05 };

/** The whole way from three meshes to a proven result. */
export function combineAll(
  kernel: Kernel,
  base: Mesh,
  a: Mesh,
  b: Mesh,
  choose: (conflict: Conflict) => Take = () => 'both',
) {
  const { tolerance_mm } = options;
  const changes = {
    a: findChanges(kernel, base, a, tolerance_mm),
    b: findChanges(kernel, base, b, tolerance_mm),
  };
  const contact = findContact(kernel, base, changes.a.pieces, changes.b.pieces, options);
  const meshes = { base, a, b };
  const made = combineSolids(
    kernel,
    meshes,
    changes,
    contact,
    contact.conflicts.map(choose),
    options.tolerance_mm,
  );
  const agreed = (side: 'a' | 'b', index: number) => contact.agreements.some(same => same[side] === index);
  const proof = proveCombination(
    kernel,
    meshes,
    changes,
    made.applied,
    agreed,
    made.mesh,
    options.tolerance_mm,
  );
  return { changes, contact, made, proof };
}

/** Shells, handles and volume of a closed surface; null when it is open. */
export function shapeOf(mesh: Mesh) {
  const body = bodyOf(mesh);
  if (body === null) return null;
  const shells = findShells(mesh).count;
  const characteristic = new Set(mesh.triangles).size - mesh.triangles.length / 6;
  return { volume_mm3: body.volume_mm3, shells, handles: shells - characteristic / 2 };
}

/** Turned about z, then about x. */
export function turned(mesh: Mesh, aboutZ: number, aboutX: number): Mesh {
  const [c, s, d, t] = [Math.cos(aboutZ), Math.sin(aboutZ), Math.cos(aboutX), Math.sin(aboutX)];
  return mapped(mesh, ([x, y, z]) => {
    const [p, q] = [c * x - s * y, s * x + c * y];
    return [p, d * q - t * z, t * q + d * z];
  });
}
