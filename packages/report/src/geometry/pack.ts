import type { Mesh } from '@kinprint/mesh';
import { zlibSync } from 'fflate';
import { toBase64 } from './base64.ts';
import { latticeOver } from './lattice.ts';
import { encodeMesh } from './mesh-coding.ts';
import type { PackedMeshes } from './packed.ts';
import { numberWriter } from './varint.ts';

/**
 * Packs meshes on one lattice, so that places that coincide still do.
 *
 * @param wished_mm step of the lattice; a coarser one is taken, and stated, where the meshes are too large for it
 */
export function packMeshes(meshes: readonly Mesh[], wished_mm: number): PackedMeshes {
  const lattice = latticeOver(meshes, wished_mm);
  const numbers = numberWriter();
  const coded = meshes.map(mesh => encodeMesh(mesh, lattice, numbers));
  return { ...lattice, meshes: coded, data: toBase64(zlibSync(numbers.bytes(), { level: 6 })) };
}
