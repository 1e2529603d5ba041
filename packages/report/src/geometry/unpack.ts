import type { Mesh } from '@kinprint/mesh';
import { fromBase64 } from './base64.ts';
import { decodeMesh } from './mesh-coding.ts';
import type { PackedMeshes } from './packed.ts';
import { numberReader } from './varint.ts';

/**
 * The meshes again. Runs in a browser.
 *
 * @throws Error where the data are not what `packMeshes` wrote
 */
export async function unpackMeshes(packed: PackedMeshes): Promise<Mesh[]> {
  // Five bytes hold any number.
  const most = packed.meshes.reduce((sum, mesh) => sum + 15 * (mesh.vertices + mesh.triangles), 0);
  const numbers = numberReader(await inflate(fromBase64(packed.data), most));
  const meshes = packed.meshes.map(mesh => decodeMesh(mesh, packed, numbers));
  if (!numbers.atEnd()) throw new Error('The geometry goes on after its end.');
  return meshes;
}

/** @param most bytes; more are an error */
async function inflate(bytes: Uint8Array<ArrayBuffer>, most: number): Promise<Uint8Array> {
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream('deflate'));
  const pieces: Uint8Array[] = [];
  let length = 0;
  const reader = stream.getReader();
  for (;;) {
    const { done, value } = (await reader.read()) as { done: boolean; value: Uint8Array };
    if (done) break;
    length += value.length;
    if (length > most) {
      await reader.cancel();
      throw new Error('The geometry is longer than it says.');
    }
    pieces.push(value);
  }
  const all = new Uint8Array(length);
  let at = 0;
  for (const piece of pieces) {
    all.set(piece, at);
    at += piece.length;
  }
  return all;
}
