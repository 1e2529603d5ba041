import { InputError, subMesh, type Mesh } from '@kinprint/mesh';
import { bodyOf, type Body } from './body.ts';
import { frameOf, type Frame } from './frame.ts';
import { kernelRefusal, withSolids, type Kernel, type KernelSolid } from './kernel.ts';

/**
 * Hands a mesh to the kernel as a solid, in the given frame (its own by default). Overlapping shells are united,
 * surfaces that are inside out are turned. The caller must `delete()` the result.
 *
 * Coordinates cross in single precision: relative to the size of the frame, 6e-8 are lost.
 *
 * @throws InputError `not-a-solid` when the surface is open or the kernel refuses it.
 */
export function toManifold(kernel: Kernel, mesh: Mesh, frame: Frame = frameOf(mesh)): KernelSolid {
  const body = bodyOf(mesh);
  if (body !== null) return bodyToManifold(kernel, body, frame);
  const solid = mergedSolid(kernel, mesh, frame);
  if (solid === null) throw notASolid('its surface is open or its faces point both ways');
  return solid;
}

/** The same for a mesh that is sorted already. */
export function bodyToManifold(kernel: Kernel, body: Body, frame: Frame): KernelSolid {
  if (body.groupOf === null) return surfaceToManifold(kernel, body.mesh, frame);
  return withSolids(keep => {
    const groups = splitGroups(body).map(mesh => keep(surfaceToManifold(kernel, mesh, frame)));
    return kernel.api.Manifold.union(groups);
  });
}

/** One mesh per group that has faces. */
export function splitGroups({ mesh, groupOf, groupCount }: Body): readonly Mesh[] {
  if (groupOf === null) return [mesh];
  const faces = Array.from({ length: groupCount }, (): number[] => []);
  groupOf.forEach((group, f) => faces[group].push(f));
  return faces.filter(list => list.length > 0).map(list => subMesh(mesh, list));
}

/** Takes the solid out of the kernel, back into the frame of the world. Does not free it. */
export function fromManifold(solid: KernelSolid, frame: Frame): Mesh {
  const out = solid.getMesh();
  const { numProp, vertProperties, triVerts, mergeFromVert, mergeToVert } = out;
  const count = vertProperties.length / numProp;
  const positions = new Float64Array(3 * count);
  for (let v = 0; v < count; v++) {
    for (let k = 0; k < 3; k++) {
      positions[3 * v + k] = vertProperties[v * numProp + k] / frame.scale + frame.center[k];
    }
  }
  const triangles = triVerts.slice();
  if (mergeFromVert.length > 0) {
    const target = new Uint32Array(count).map((_, v) => v);
    mergeFromVert.forEach((from, i) => (target[from] = mergeToVert[i]));
    for (let i = 0; i < triangles.length; i++) triangles[i] = target[triangles[i]];
  }
  return { positions, triangles };
}

/** The same for a closed surface of one group, taken as it is. @throws InputError `not-a-solid` */
export function surfaceToManifold(kernel: Kernel, mesh: Mesh, frame: Frame): KernelSolid {
  const { Manifold } = kernel.api;
  try {
    return new Manifold(kernelMesh(kernel, mesh, frame));
  } catch (error) {
    const refusal = kernelRefusal(error);
    if (refusal === null) throw error;
    throw notASolid(`the boolean kernel refuses it (${refusal})`);
  }
}

/** Soup whose equal corners were never welded: the kernel's own merge may close it. */
function mergedSolid(kernel: Kernel, mesh: Mesh, frame: Frame): KernelSolid | null {
  const input = kernelMesh(kernel, mesh, frame);
  input.merge();
  try {
    return new kernel.api.Manifold(input);
  } catch (error) {
    if (kernelRefusal(error) === null) throw error;
    return null;
  }
}

function kernelMesh(kernel: Kernel, { positions, triangles }: Mesh, { center, scale }: Frame) {
  const vertProperties = new Float32Array(positions.length);
  const [cx, cy, cz] = center;
  for (let i = 0; i < positions.length; i += 3) {
    vertProperties[i] = (positions[i] - cx) * scale;
    vertProperties[i + 1] = (positions[i + 1] - cy) * scale;
    vertProperties[i + 2] = (positions[i + 2] - cz) * scale;
  }
  return new kernel.api.Mesh({ numProp: 3, vertProperties, triVerts: triangles });
}

function notASolid(why: string): InputError {
  return new InputError(
    'not-a-solid',
    `The mesh does not enclose a volume: ${why}.`,
    'Close the holes and make all faces point outwards, then try again.',
  );
}
