import { mayBeMesh } from '../../snapshot/candidate.ts';
import { adoptDefaults } from '../adopt-defaults.ts';
import type { FileKind } from './types.ts';

/** What a file may be, by its name; null for a kind that is not taken. */
export function fileKind(path: string): FileKind | null {
  const name = path.slice(path.lastIndexOf('/') + 1);
  const lower = name.toLowerCase();
  if (lower.startsWith('.')) return null;
  if (mayBeMesh(name)) return 'mesh';
  if (adoptDefaults.modelEndings.some(ending => lower.endsWith(ending) && lower.length > ending.length))
    return 'model';
  if (/^(licen[sc]e|copying|unlicense)([-._].*)?$/.test(lower) && isText(lower)) return 'license';
  // The folder that the REUSE Specification 3.3 keeps license texts in.
  if (/(^|\/)LICENSES\/[^/]+\.txt$/.test(path)) return 'license';
  return /^readme(\.(md|txt|rst|adoc|markdown))?$/.test(lower) ? 'readme' : null;
}

function isText(lower: string): boolean {
  const ending = /\.[a-z0-9]*$/.exec(lower)?.[0] ?? '';
  // `LICENSE-2.0` and `LICENSE.MIT` are texts as well; pictures and documents are not.
  return !/^\.(png|jpe?g|gif|svg|pdf|docx?|odt|html?|zip|ya?ml|json)$/.test(ending);
}
