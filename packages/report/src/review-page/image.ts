import type { Still } from '../drawing/part-drawing.ts';
import { toBase64 } from '../geometry/base64.ts';
import { xml } from '../lineage/xml.ts';

/** A picture within a page. @param description for who cannot see it; empty where words beside it say the same */
export function image({ png, width, height }: Still, name: string, description: string): string {
  // Of what a stranger named, only the description is in it.
  return `<img${name === '' ? '' : ` class="${name}"`} width="${width}" height="${height}" decoding="async" alt="${xml(description)}" src="data:image/png;base64,${toBase64(png)}">`;
}
