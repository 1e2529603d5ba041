import { relateShapes, type RelateOptions, type AlignedVerdict } from '@kinprint/compare';
import { transformMesh, type Mesh } from '@kinprint/mesh';
import { mirrorInX } from './whole-mesh.ts';

/** Verdicts that leave the shape what it was. */
export const unchanged: ReadonlySet<AlignedVerdict | 'unsound'> = new Set([
  'identical',
  'same-shape',
  'moved',
]);

/** Whether a shape and its mirror image are the same one, moved at most. */
export function isOwnMirrorImage(mesh: Mesh, options: RelateOptions = {}): boolean {
  const image = transformMesh(mesh, mirrorInX);
  // The image of the image has been rounded as often as the image.
  return unchanged.has(relateShapes(transformMesh(image, mirrorInX), image, options).verdict);
}
