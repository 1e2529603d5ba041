import { strToU8, zipSync } from 'fflate';
import { coreNamespace } from '../read/three-mf/model.ts';

const relationships = (target: string) =>
  `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">` +
  `<Relationship Id="r" Target="${target}" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/>` +
  `</Relationships>`;

/** A 3MF package whose primary part is `model`; `others` by entry name. */
export function packageOf(
  model: string,
  others: Readonly<Record<string, string>> = {},
): Uint8Array<ArrayBuffer> {
  const parts = { '_rels/.rels': relationships('/3D/part.model'), '3D/part.model': model, ...others };
  return zipped(parts);
}

/** A ZIP archive of texts by entry name. */
export function zipped(parts: Readonly<Record<string, string>>): Uint8Array<ArrayBuffer> {
  const entries = Object.entries(parts).map(([name, text]) => [name, strToU8(text)] as const);
  return new Uint8Array(zipSync(Object.fromEntries(entries), { level: 1, mtime: new Date(1980, 0, 1) }));
}

/** A model part. */
export function modelOf(resources: string, build: string, attributes = 'unit="millimeter"'): string {
  return (
    `<?xml version="1.0" encoding="UTF-8"?>\n<model ${attributes} xmlns="${coreNamespace}">\n` +
    `<resources>${resources}</resources>\n<build>${build}</build>\n</model>`
  );
}

/** The mesh element of a tetrahedron with its right angle at the origin and legs of `size`. */
export function tetrahedronXml(size = 1): string {
  const vertex = (x: number, y: number, z: number) => `<vertex x="${x}" y="${y}" z="${z}"/>`;
  const triangle = (a: number, b: number, c: number) => `<triangle v1="${a}" v2="${b}" v3="${c}"/>`;
  return (
    `<mesh><vertices>${vertex(0, 0, 0)}${vertex(size, 0, 0)}${vertex(0, size, 0)}${vertex(0, 0, size)}</vertices>` +
    `<triangles>${triangle(0, 2, 1)}${triangle(0, 1, 3)}${triangle(1, 2, 3)}${triangle(2, 0, 3)}</triangles></mesh>`
  );
}
