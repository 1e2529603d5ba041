import type { Mesh } from '@kinprint/mesh';
import type { PartReview } from '@kinprint/registry';
import type { ChangeSubject } from '../pictures/change-picture.ts';

/** The meshes of a part that is reviewed; a side is left out where there is none, or none that can be read. */
export interface PartShapes {
  readonly before?: Mesh;
  readonly after?: Mesh;
  /** BEFORE in the frame of AFTER; left out where it was carried nowhere. */
  readonly carried?: Mesh;
  /** The surfaces of the comparison's `regions`, in their order. */
  readonly regions?: readonly Mesh[];
}

/** What a change of a part is drawn from; null where one side has no mesh, or nothing was compared. */
export function changeOf(part: PartReview, shapes: PartShapes, title: string): ChangeSubject | null {
  const { comparison } = part;
  const { before, after, carried, regions } = shapes;
  if (comparison === null || before === undefined || after === undefined) return null;
  return {
    title,
    before: part.was ?? part.id,
    after: part.id,
    comparison,
    meshes: {
      before,
      after,
      ...(carried === undefined ? {} : { carried }),
      ...(regions === undefined ? {} : { regions }),
    },
  };
}
