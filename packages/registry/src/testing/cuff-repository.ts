import { writeStlBinary, type Mesh } from '@kinprint/mesh';
import { temporaryRepository, type TemporaryRepository } from './temporary-repository.ts';

/** A box from the origin to (a, b, c), 12 faces, outward. */
export function boxMesh(a: number, b: number, c: number): Mesh {
  const positions = new Float64Array(24);
  for (let k = 0; k < 8; k += 1) positions.set([k & 1 ? a : 0, k & 2 ? b : 0, k & 4 ? c : 0], 3 * k);
  const triangles = new Uint32Array([
    0, 2, 1, 1, 2, 3, 4, 5, 6, 5, 7, 6, 0, 1, 4, 1, 5, 4, 2, 6, 3, 3, 6, 7, 0, 4, 2, 2, 4, 6, 1, 3, 5, 3, 7,
    5,
  ]);
  return { positions, triangles };
}

/** The bytes of a box's STL. */
export function boxFile(a: number, b: number, c: number): Uint8Array {
  return writeStlBinary(boxMesh(a, b, c));
}

export const leftManifest = `# Made for the small size.
kinprint: variant/1
title: Utensil cuff, left, small
license: CC-BY-SA-4.0
authors:
  - name: Ines Sample # designed it
    roles: [conceptualization]
parts:
  - id: shell
    mesh: parts/shell.stl
    material: petg
  - id: strap
    mesh: parts/strap.stl
cautions:
  - Check the skin after each use.
`;

/** A registry of one device and one variant with two parts, not committed yet. */
export function cuffRepository(): TemporaryRepository {
  const repo = temporaryRepository();
  repo.write('registry.yaml', 'kinprint: registry/1\nname: Lending group\n');
  repo.write('devices/cuff/device.yaml', 'kinprint: device/1\ntitle: Cuff\npurpose: Holds a spoon.\n');
  repo.write('devices/cuff/left/variant.yaml', leftManifest);
  repo.write('devices/cuff/left/parts/shell.stl', boxFile(40, 30, 20));
  repo.write('devices/cuff/left/parts/strap.stl', boxFile(60, 10, 2));
  return repo;
}
