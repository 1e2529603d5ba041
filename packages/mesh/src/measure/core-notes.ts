import type { Note } from '../types.ts';
import type { Analysis } from './analyze.ts';

/** Why a mesh has no volume. */
export function noVolumeNote({ topology }: Analysis): Note {
  const { pairs, loops } = topology;
  const about = 'volume_mm3';
  if (topology.shells === 0) {
    return {
      code: 'no-volume-empty',
      text: 'There is no face with three distinct corners, so nothing encloses a volume.',
      about,
    };
  }
  if (pairs.boundary.length > 0) {
    const text = `The mesh is open: ${count(pairs.boundary.length, 'boundary edge')} in ${count(loops.length, 'loop')}. An open surface encloses no volume.`;
    return { code: 'no-volume-open', text, about };
  }
  const where =
    pairs.flipped.length > 0
      ? count(pairs.flipped.length, 'flipped edge')
      : `directions that do not cancel on edges of three or more faces`;
  const text = `The faces do not agree on which side is outside (${where}), so they enclose no volume.`;
  return { code: 'no-volume-orientation', text, about };
}

/** Remarks on the shells that the volume is made of. */
export function shellNotes({ nesting, table, sums }: Analysis): Note[] {
  const notes: Note[] = [];
  if (nesting.insideOut) {
    const text =
      'All faces point inward: the mesh is inside out, and its volume negative. Centroid and inertia are those of the solid.';
    notes.push({ code: 'inside-out', text, about: 'volume_mm3' });
  } else if (nesting.inverted.length > 0) {
    const text = `${count(nesting.inverted.length, 'shell')} of ${table.count} ${nesting.inverted.length === 1 ? 'is' : 'are'} inside out and counted negative.`;
    notes.push({ code: 'shells-inverted', text, about: 'volume_mm3' });
    notes.push({
      code: 'no-mass-inverted',
      text: 'Some shells are inside out, so centroid and inertia of the solid cannot be said.',
      about: 'centroid_mm',
    });
  }
  if (sums.volume < 0 && !nesting.insideOut) {
    const text = 'The volume is negative: more of it lies inside surfaces that face inward than outward.';
    notes.push({ code: 'volume-negative', text, about: 'volume_mm3' });
  }
  if (nesting.doubled.length > 0) {
    const text = `${count(nesting.doubled.length, 'shell')} ${nesting.doubled.length === 1 ? 'lies' : 'lie'} inside the material of another: that material is counted twice.`;
    notes.push({ code: 'shells-overlap', text, about: 'volume_mm3' });
  }
  return notes;
}

/** Why a mesh has no genus. */
export function noGenusNote({ topology }: Analysis): Note {
  const { pairs, pinched, orientable } = topology;
  const reason =
    topology.shells === 0
      ? 'there is no face with three distinct corners'
      : pairs.crowded.length > 0
        ? `${count(pairs.crowdStarts.length - 1, 'edge')} ${pairs.crowdStarts.length === 2 ? 'has' : 'have'} three or more faces`
        : pinched.length > 0
          ? 'surfaces touch at single vertices'
          : orientable
            ? 'the surface is no manifold'
            : 'the surface has one side only';
  return { code: 'no-genus', text: `The genus has no meaning here: ${reason}.`, about: 'genus' };
}

export function count(n: number, one: string, many = `${one}s`): string {
  return `${n} ${n === 1 ? one : many}`;
}
