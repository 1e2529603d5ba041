import type { PartReview, PartShapes } from '@kinprint/registry';
import type { ChangeSubject } from '../pictures/change-picture.ts';

/** What a change of a part is drawn from; null where there is no pair of meshes to compare. */
export function changeOf(part: PartReview, shapes: PartShapes | null, title: string): ChangeSubject | null {
  if (shapes?.kind !== 'change') return null;
  const { comparison, meshes } = shapes;
  return { title, before: part.was ?? part.id, after: part.id, comparison, meshes };
}
