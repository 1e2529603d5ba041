import { strToU8, zipSync } from 'fflate';
import { InputError } from '../error.ts';
import type { MeshObject, Unit } from '../types.ts';
import { coreNamespace } from '../read/three-mf/model.ts';
import { millimetersPer } from '../read/units.ts';
import { escapeXml } from './escape-xml.ts';
import { meshXml } from './three-mf-mesh.ts';

/** What to say beside the shapes. */
export interface ThreeMfOptions {
  /** The unit to write numbers in; millimeters by default. */
  readonly unit?: Unit;
  readonly title?: string;
  readonly designer?: string;
  readonly description?: string;
  readonly license?: string;
}

/**
 * Objects as the bytes of a 3MF package (core specification only): one object and one build item each, where they
 * stand, with their names. Numbers in millimeters read back as the same doubles; in another unit the last digit may differ.
 *
 * Faces with two equal corners are left out, as the format forbids them. The same input gives the same bytes
 * everywhere: entries carry the date 1980-01-01.
 *
 * @throws {InputError} `3mf-empty` for an object without faces (the format wants at least one), `3mf-range` for a
 * coordinate that is not finite.
 *
 * Source: 3MF Core Specification 1.4.0 (6 February 2025); Open Packaging Conventions, ECMA-376 part 2.
 */
export function writeThreeMf(objects: readonly MeshObject[], options: ThreeMfOptions = {}): Uint8Array {
  if (objects.length === 0)
    throw new InputError('3mf-empty', 'there is no object to write', 'Give at least one.');
  const unit = options.unit ?? 'millimeter';
  const pieces = [
    `${xmlHead}<model unit="${unit}" xml:lang="en-US" xmlns="${coreNamespace}">\n`,
    metadata('Title', options.title),
    metadata('Designer', options.designer),
    metadata('Description', options.description),
    metadata('LicenseTerms', options.license),
    ' <resources>\n',
  ];
  objects.forEach(({ name, mesh }, i) => {
    const named = name === null ? '' : ` name="${escapeXml(name)}"`;
    pieces.push(`  <object id="${i + 1}" type="model"${named}>\n`);
    pieces.push(...meshXml(mesh, millimetersPer[unit]));
    pieces.push('  </object>\n');
  });
  pieces.push(' </resources>\n <build>\n');
  objects.forEach((_, i) => pieces.push(`  <item objectid="${i + 1}"/>\n`));
  pieces.push(' </build>\n</model>\n');
  return zipSync(
    {
      '[Content_Types].xml': strToU8(contentTypes),
      '_rels/.rels': strToU8(relationships),
      '3D/3dmodel.model': joined(pieces),
    },
    // Local midnight: the library writes local time, so that the bytes are the same in every time zone.
    { level: 6, mtime: new Date(1980, 0, 1) },
  );
}

const xmlHead = '<?xml version="1.0" encoding="UTF-8"?>\n';

const contentTypes =
  `${xmlHead}<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">\n` +
  ' <Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>\n' +
  ' <Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/>\n' +
  '</Types>\n';

const relationships =
  `${xmlHead}<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">\n` +
  ' <Relationship Id="rel0" Target="/3D/3dmodel.model"' +
  ' Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/>\n' +
  '</Relationships>\n';

function metadata(name: string, value: string | undefined): string {
  return value === undefined ? '' : ` <metadata name="${name}">${escapeXml(value)}</metadata>\n`;
}

function joined(pieces: readonly string[]): Uint8Array {
  const parts = pieces.map(piece => strToU8(piece));
  const bytes = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    bytes.set(part, at);
    at += part.length;
  }
  return bytes;
}
