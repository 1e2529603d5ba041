import { massOfSums, type MassProperties } from '../mass/mass-properties.ts';
import type { CoreMeasurement } from '../measurement.ts';
import { soundnessOf } from '../soundness/soundness.ts';
import type { Mesh, Note } from '../types.ts';
import { analyze, type Analysis } from './analyze.ts';
import { closeSeams } from './close-seams.ts';
import { count, noGenusNote, noVolumeNote, shellNotes } from './core-notes.ts';

/**
 * Counts, area, volume, bounds, mass properties, shells, genus and soundness of a mesh whose equal vertices are
 * welded: everything but self-intersections, features, walls and overhang.
 *
 * The volume is given when the faces form a closed cycle, or do so once seams within the tolerance are closed (the
 * note `seams-closed` says how far; counts and soundness stay those of the mesh as it is). Linear in the size.
 */
export function measureCore(mesh: Mesh): CoreMeasurement {
  return figuresOf(analyze(mesh)).core;
}

export interface Figures {
  readonly core: CoreMeasurement;
  /** The analysis of the closed surface that the volume is of, seams closed; null without volume. */
  readonly solid: Analysis | null;
}

/** The same from what is known already. */
export function figuresOf(analysis: Analysis): Figures {
  const { mesh, box, sums, topology: found } = analysis;
  const notes: Note[] = [];
  const solid = solidOf(analysis, notes);
  const mass = solid === null ? null : massOf(solid, notes);
  const principal = mass?.principal ?? null;
  if (found.genus === null) notes.push(noGenusNote(analysis));
  const unused = mesh.positions.length / 3 - analysis.vertices;
  if (unused > 0) {
    const text = `${count(unused, 'vertex', 'vertices')} of the file ${unused === 1 ? 'belongs' : 'belong'} to no face and ${unused === 1 ? 'is' : 'are'} left out.`;
    notes.push({ code: 'vertices-unused', text, about: 'vertices' });
  }
  notes.push({
    code: 'self-intersections-not-computed',
    text: 'Self-intersections were not looked for.',
    about: 'soundness.self_intersections',
  });
  const core: CoreMeasurement = {
    triangles: mesh.triangles.length / 3,
    vertices: analysis.vertices,
    area_mm2: sums.area,
    volume_mm3: mass?.volume ?? null,
    bounds_mm:
      box === null
        ? null
        : { ...box, size: [box.max[0] - box.min[0], box.max[1] - box.min[1], box.max[2] - box.min[2]] },
    centroid_mm: mass?.centroid ?? null,
    inertia_mm5: mass?.inertia ?? null,
    principal: principal === null ? null : { moments_mm5: principal.moments, axes: principal.axes },
    shells: found.shells,
    genus: found.genus,
    soundness: soundnessOf(mesh, found, sums, analysis.table, analysis.nesting),
    notes,
  };
  return { core, solid };
}

/** The closed surface that the volume is of, or null; remarks go to `notes`. */
function solidOf(analysis: Analysis, notes: Note[]): Analysis | null {
  if (analysis.topology.shells > 0) {
    if (analysis.topology.pairs.closedCycle) return analysis;
    const seams = closeSeams(analysis);
    if (seams !== null) {
      notes.push(seams.note);
      return seams.closed;
    }
  }
  notes.push(noVolumeNote(analysis));
  return null;
}

function massOf(solid: Analysis, notes: Note[]): MassProperties {
  notes.push(...shellNotes(solid));
  const mass = massOfSums(solid.sums);
  if (isMixed(solid)) return { ...mass, centroid: null, inertia: null, principal: null };
  if (mass.centroid === null) {
    const text =
      'The surface is closed but flat: it encloses nothing, so there is no solid whose centroid or inertia could be given.';
    notes.push({ code: 'no-mass-flat', text, about: 'centroid_mm' });
  }
  return mass;
}

/** Are some shells, but not all, inside out? */
export function isMixed({ nesting }: Analysis): boolean {
  return nesting.inverted.length > 0 && !nesting.insideOut;
}
