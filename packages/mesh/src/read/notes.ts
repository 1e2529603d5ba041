import { InputError } from '../error.ts';
import type { MeshObject, Note } from '../types.ts';

/**
 * The note on facets that were dropped because a corner is not a finite number and so has no place; empty when
 * there are none.
 *
 * @param first numbers of the first few of them, from 1.
 * @throws {InputError} `no-finite-facet` when none of `total` facets is left.
 */
export function droppedFacets(count: number, total: number, first: readonly number[]): Note[] {
  if (count === 0) return [];
  const facet = first[0];
  if (count === total) {
    throw new InputError(
      'no-finite-facet',
      `none of the ${total} facets has finite coordinates`,
      'Export the file again; this one holds no shape.',
      facet === undefined ? {} : { facet },
    );
  }
  const more = count > first.length ? ', …' : '';
  return [
    {
      code: 'facets-dropped',
      text: `${count} of ${total} facets were dropped: a corner is not a finite number (facet ${first.join(', ')}${more}).`,
      about: 'triangles',
    },
  ];
}

/** What a file without any face gives: one empty object and a note. */
export function emptyObject(
  name: string | null,
  notes: readonly Note[],
): { objects: MeshObject[]; notes: Note[] } {
  const mesh = { positions: new Float64Array(0), triangles: new Uint32Array(0) };
  return {
    objects: [{ name, mesh }],
    notes: [...notes, { code: 'no-facets', text: 'The file holds no faces.', about: 'triangles' }],
  };
}

/** The note on polygons whose outline crosses itself; empty when there are none. */
export function guessedPolygons(count: number): Note[] {
  if (count === 0) return [];
  const text = `${count} polygons have an outline that crosses itself; how they are cut into triangles is a guess.`;
  return [{ code: 'polygon-crossed', text }];
}
