import type { Soundness } from '../measurement.ts';
import { crossingPairs } from '../soundness/crossing-pairs.ts';
import { crossingPlace } from '../soundness/crossing-place.ts';
import { inOnePlane } from '../soundness/faces-cross.ts';
import { PLACES } from '../soundness/places.ts';
import type { TriangleTree } from '../tree/tree.ts';
import type { Mesh, Note } from '../types.ts';
import type { Analysis } from './analyze.ts';
import { count } from './core-notes.ts';

/** The soundness completed with self-intersections, and what they mean for the volume. */
export function withSelfIntersections(
  analysis: Analysis,
  soundness: Soundness,
  tree: TriangleTree,
  hasVolume: boolean,
): { soundness: Soundness; notes: Note[] } {
  const { mesh, topology } = analysis;
  const { pairs, complete } = crossingPairs(mesh, { tree });
  const found = pairs.length / 2;
  const about = 'soundness.self_intersections';
  if (found === 0 && !complete) {
    const text = 'The search for self-intersections was given up: too many faces lie close together.';
    return { soundness, notes: [{ code: 'self-intersections-given-up', text, about }] };
  }
  const notes: Note[] = [];
  if (!complete) {
    const text = `At least ${count(found, 'pair')} of faces cross or overlap; the search stopped there.`;
    notes.push({ code: 'self-intersections-at-least', text, about });
  }
  if (found > 0 && hasVolume) notes.push(volumeNote(mesh, topology.label, pairs));
  const places = Array.from({ length: Math.min(found, PLACES) }, (_, i) =>
    crossingPlace(mesh, pairs[2 * i], pairs[2 * i + 1]),
  );
  const places_mm = found > 0 ? { ...soundness.places_mm, self_intersections: places } : soundness.places_mm;
  return { soundness: { ...soundness, self_intersections: found, places_mm }, notes };
}

function volumeNote(mesh: Mesh, label: Int32Array, pairs: Int32Array): Note {
  const about = 'volume_mm3';
  let crossing = false;
  for (let i = 0; i < pairs.length; i += 2) {
    const [f, g] = [pairs[i], pairs[i + 1]];
    if (inOnePlane(mesh.positions, mesh.triangles, f, g)) continue;
    crossing = true;
    if (label[f] === label[g]) continue;
    const text = 'Shells pass through each other: material that they share is counted once for each of them.';
    return { code: 'shells-overlap', text, about };
  }
  return crossing
    ? {
        code: 'surface-overlaps',
        text: 'The surface passes through itself: material that it encloses twice is counted twice.',
        about,
      }
    : {
        code: 'faces-overlap',
        text: 'Faces lie on one another in one plane: solids touch there, or share material that is counted twice.',
        about,
      };
}
