import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { writeStlBinary, type Mesh } from '@kinprint/mesh';
import {
  temporaryFolder,
  temporaryRepository,
  type TemporaryRepository,
} from '../../packages/registry/src/testing/temporary-repository.ts';
import { box } from '../support/meshes.ts';

/**
 * A block with one corner pushed in by a different length along each axis, so that it is no mirror image of itself.
 *
 * @param push share of each edge
 */
export function wedge(a: number, b: number, c: number, push = 0.3): Mesh {
  const mesh = box(a, b, c);
  const positions = Float64Array.from(mesh.positions);
  positions.set([a * (1 - push), b * (1 - 0.8 * push), c * (1 - 0.6 * push)], 21);
  return { positions, triangles: mesh.triangles };
}

/** The mesh with its numbers scaled. */
export function scaled(mesh: Mesh, factor: number): Mesh {
  return { positions: Float64Array.from(mesh.positions, value => factor * value), triangles: mesh.triangles };
}

/** The mirror image across x, faces still looking outward. */
export function mirrored(mesh: Mesh): Mesh {
  const positions = Float64Array.from(mesh.positions, (value, i) => (i % 3 === 0 ? -value : value));
  const triangles = Uint32Array.from(mesh.triangles);
  for (let i = 0; i < triangles.length; i += 3)
    [triangles[i + 1], triangles[i + 2]] = [triangles[i + 2], triangles[i + 1]];
  return { positions, triangles };
}

/** The same block with each face split at its middle: other triangles, the same surface. */
export function split(mesh: Mesh): Mesh {
  const positions = [...mesh.positions];
  const triangles: number[] = [];
  for (let i = 0; i < mesh.triangles.length; i += 3) {
    const corners = [...mesh.triangles.slice(i, i + 3)];
    const middle = [0, 1, 2].map(
      axis => corners.reduce((sum, v) => sum + mesh.positions[3 * v + axis], 0) / 3,
    );
    const at = positions.push(...middle) / 3 - 1;
    corners.forEach((corner, k) => triangles.push(corner, corners[(k + 1) % 3], at));
  }
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}

export const stl = (mesh: Mesh): Uint8Array => writeStlBinary(mesh);

/** Folders of files: meshes as binary STL, texts as they are. */
export type Things = Readonly<Record<string, Mesh | Uint8Array | string>>;

export function contentOf(thing: Mesh | Uint8Array | string): Uint8Array | string {
  return typeof thing === 'string' || thing instanceof Uint8Array ? thing : stl(thing);
}

/** A plain folder, named as given. */
export function folderOf(name: string, things: Things): string {
  const folder = path.join(temporaryFolder(), name);
  for (const [file, thing] of Object.entries(things)) {
    const absolute = path.join(folder, file);
    mkdirSync(path.dirname(absolute), { recursive: true });
    writeFileSync(absolute, contentOf(thing));
  }
  return folder;
}

/** A repository with one commit for each state; a state replaces the one before it. */
export function historyOf(
  ...states: readonly (readonly [subject: string, things: Things])[]
): TemporaryRepository {
  const repository = temporaryRepository();
  for (const [subject, things] of states) {
    repository.git('rm', '-r', '-q', '--cached', '--ignore-unmatch', '.');
    repository.git('clean', '-q', '-f', '-d', '-x');
    for (const [file, thing] of Object.entries(things)) repository.write(file, contentOf(thing));
    repository.commit(subject);
  }
  return repository;
}

/** A registry with a user that git knows, and one commit. */
export function emptyRegistry(): TemporaryRepository {
  const repository = temporaryRepository();
  repository.git('config', 'user.name', 'Lena Birkholt');
  repository.git('config', 'user.email', 'lena@example.org');
  repository.write('registry.yaml', 'kinprint: registry/1\nname: Cuff lending group\n');
  repository.write('.gitattributes', 'devices/** -text\n');
  repository.commit('A registry');
  return repository;
}
