import { InputError } from '../../error.ts';
import type { ZipArchive } from '../zip/directory.ts';
import { unpack } from '../zip/unpack.ts';
import { partKey } from './model.ts';
import { readXml } from './xml.ts';

const relationshipsNamespace = 'http://schemas.openxmlformats.org/package/2006/relationships';
const modelType = 'http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel';

/**
 * The key of the primary model part: the target of the one relationship of its type from the package itself
 * (3MF Core Specification 1.4.0, 2.1.1). File names play no part.
 *
 * @throws {InputError} `3mf-no-model` when the archive is no 3MF package or names no model part that it holds.
 */
export function primaryModel(archive: ZipArchive): string {
  const entry = archive.entries.get('_rels/.rels');
  if (entry === undefined) throw noModel('the archive has no part _rels/.rels');
  const targets: string[] = [];
  const xml = readXml(entry.name, {
    open(element) {
      if (element.uri !== relationshipsNamespace || element.local !== 'Relationship') return;
      if (element.attribute('Type') !== modelType || element.attribute('TargetMode') === 'External') return;
      targets.push(element.attribute('Target') ?? '');
    },
    close() {
      // Relationships are told by their opening tags alone.
    },
  });
  unpack(archive, entry, xml.write);
  xml.end();
  if (targets.length !== 1) throw noModel(`${targets.length} relationships lead to a 3D model, not one`);
  const key = partKey(targets[0]);
  if (!archive.entries.has(key))
    throw noModel(`the model part ${JSON.stringify(targets[0].slice(0, 80))} is missing`);
  return key;
}

function noModel(why: string): InputError {
  return new InputError(
    '3mf-no-model',
    `this is no 3MF file: ${why}`,
    'Export the part again as 3MF or STL.',
  );
}
