import { crossingPairs, crossingPlace, type Mesh, type Note } from '@kinprint/mesh';
import type { Remix } from '@kinprint/solid';

/**
 * That an input crosses itself, and where: what a person should know before choosing, since no result that crosses
 * itself is written.
 *
 * @param meshes all in the frame of the base
 */
export function crossingNotes(meshes: Readonly<Record<'base' | Remix, Mesh>>): Note[] {
  return (['base', 'a', 'b'] as const).flatMap((side): Note[] => {
    const { pairs } = crossingPairs(meshes[side]);
    if (pairs.length === 0) return [];
    const count = pairs.length / 2;
    const at = crossingPlace(meshes[side], pairs[0], pairs[1]).map(v => v.toFixed(2));
    const text =
      `${names[side]} crosses itself in ${count === 1 ? '1 place' : `${count} places`}, first at (${at.join(', ')}) mm in the frame of the base. ` +
      'A result that does is not written: let the program it comes from mend that before you choose.';
    return [{ code: 'crosses-itself', text, about: side }];
  });
}

const names = { base: 'The base', a: 'A', b: 'B' } as const;
