import { type InputError, type Measurement, placeText } from '@kinprint/mesh';
import type { FileFigures } from '../figures.ts';
import { clean, point } from './words.ts';

/**
 * What to tell, on standard error, of a file whose mesh has no volume: which file, where first, what to do.
 * Null when every object has one.
 */
export function volumeComplaint(file: string, m: FileFigures): string | null {
  const open = (m.objects.length > 0 ? m.objects : [m.whole]).find(o => o.volume_mm3 === null);
  return open === undefined ? null : noVolumeText(file, open);
}

/** The same for one measurement. */
export function noVolumeText(file: string, m: Measurement): string {
  const s = m.soundness;
  const first = (['boundary_edges', 'flipped_edges', 'nonmanifold_edges'] as const).find(key => s[key] > 0);
  const at = first === undefined ? undefined : s.places_mm[first]?.[0];
  const reason = m.notes.find(n => n.about === 'volume_mm3')?.text ?? 'The mesh has no volume.';
  const where = at === undefined ? '' : ` First at ${point(at)} mm.`;
  const remedy =
    s.boundary_edges > 0 || s.flipped_edges + s.nonmanifold_edges === 0
      ? 'Close the surface in the program it comes from and export it again.'
      : 'Let the program it comes from remove doubled faces and turn all faces outward, and export it again.';
  const object = m.name === null || m.name === '' ? '' : `, object '${m.name}'`;
  return clean(`kinprint: ${file}${object}: no volume. ${reason}${where} ${remedy}`) + '\n';
}

/** What is wrong, where, and what to do: for standard error. */
export function inputErrorText(error: InputError): string {
  const place = placeText(error.place);
  return `kinprint: ${clean(place === '' ? error.message : `${place}: ${error.message}`)}\n${clean(error.remedy)}\n`;
}
