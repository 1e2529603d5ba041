import { combineMeshes } from '@kinprint/compare';
import {
  bytesSource,
  concatenate,
  InputError,
  measureMesh,
  readMesh,
  writeStlBinary,
  writeThreeMf,
  type Mesh,
  type ReadOptions,
} from '@kinprint/mesh';
import { kernel } from './booleans.ts';
import type { CombineOutput, FileInput, Task, WrittenFormat } from './task.ts';

/**
 * Combines three mesh files. The result is proven as its bytes hold it, rounding of the format included.
 *
 * @throws InputError for files that cannot be read or combined
 */
export async function combineTask(
  { files, options, format }: Extract<Task, { kind: 'combine' }>,
  read: (input: FileInput, options: ReadOptions) => Mesh,
): Promise<CombineOutput> {
  const sourceOf = (side: 'base' | 'a' | 'b') => {
    const { name } = files[side];
    try {
      const mesh = read(files[side], files.read[side]);
      // Where faces cross is looked for in the result alone.
      const asked = { walls: false, overhang: false, selfIntersections: false };
      return { name, mesh, measurement: measureMesh(mesh, asked) };
    } catch (error) {
      throw error instanceof InputError ? error.inFile(name) : error;
    }
  };
  const sources = { base: sourceOf('base'), a: sourceOf('a'), b: sourceOf('b') };
  const { combination, written } = combineMeshes(await kernel(), sources, options, mesh => {
    const bytes = encoded(mesh, format);
    const again = readMesh(bytesSource(bytes)).objects.map(object => object.mesh);
    return { written: bytes, mesh: concatenate(again) };
  });
  return { combination, bytes: written };
}

function encoded(mesh: Mesh, format: WrittenFormat): Uint8Array {
  switch (format) {
    case 'stl':
      return writeStlBinary(mesh);
    case '3mf':
      return writeThreeMf([{ name: null, mesh }]);
  }
}
