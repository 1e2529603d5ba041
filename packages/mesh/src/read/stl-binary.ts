import type { ByteSource } from '../bytes.ts';
import { InputError } from '../error.ts';
import type { Mesh, Note } from '../types.ts';
import { createFloat32Welder, float32Positions, weldFloat32 } from '../weld/weld-float32.ts';
import { droppedFacets } from './notes.ts';
import { facetBytes, headBytes } from './stl-binary-size.ts';

/** Facets to one read; a multiple of 50 bytes that stays in the processor's cache. */
const facetsPerRead = 5120;

/**
 * Reads the facets of a binary STL file and welds them as they come: what is in memory at once is the result, a
 * hash table and a buffer of 250 KiB, never the loose facets.
 *
 * @param facets how many facets to read; the caller has checked that the source holds them.
 * @returns the mesh in the file's own unit, with notes on facets dropped (a corner is not a finite number) and on
 * attribute bytes. Stored normals are ignored: the order of the corners tells the outside.
 * @throws {InputError} `no-finite-facet` when no facet can be placed, `source-short` when the source ends early.
 *
 * Layout: StereoLithography interface description, 1989: little-endian records of 12 float32 and one uint16.
 */
export function readStlBinary(source: ByteSource, facets: number): { mesh: Mesh; notes: Note[] } {
  // A closed mesh has about half as many vertices as faces (Euler's formula).
  const welder = createFloat32Welder(Math.ceil(facets / 2) + 64);
  const triangles = new Uint32Array(3 * facets);
  const buffer = new Uint8Array(facetBytes * Math.min(facets, facetsPerRead));
  const view = new DataView(buffer.buffer);
  const dropped: number[] = [];
  let droppedCount = 0;
  let withAttributes = 0;
  let corner = 0;
  for (let first = 0; first < facets; first += facetsPerRead) {
    const count = Math.min(facetsPerRead, facets - first);
    fill(source, headBytes + facetBytes * first, buffer.subarray(0, facetBytes * count), first);
    for (let i = 0, at = 12; i < count; i++, at += facetBytes) {
      const ax = view.getInt32(at, true);
      const ay = view.getInt32(at + 4, true);
      const az = view.getInt32(at + 8, true);
      const bx = view.getInt32(at + 12, true);
      const by = view.getInt32(at + 16, true);
      const bz = view.getInt32(at + 20, true);
      const cx = view.getInt32(at + 24, true);
      const cy = view.getInt32(at + 28, true);
      const cz = view.getInt32(at + 32, true);
      if (view.getUint16(at + 36, true) !== 0) withAttributes++;
      if (
        notFinite(ax) ||
        notFinite(ay) ||
        notFinite(az) ||
        notFinite(bx) ||
        notFinite(by) ||
        notFinite(bz) ||
        notFinite(cx) ||
        notFinite(cy) ||
        notFinite(cz)
      ) {
        droppedCount++;
        if (dropped.length < 5) dropped.push(first + i + 1);
        continue;
      }
      triangles[corner] = weldFloat32(welder, ax, ay, az);
      triangles[corner + 1] = weldFloat32(welder, bx, by, bz);
      triangles[corner + 2] = weldFloat32(welder, cx, cy, cz);
      corner += 3;
    }
  }
  const notes = droppedFacets(droppedCount, facets, dropped);
  if (withAttributes > 0) {
    notes.push({
      code: 'stl-attributes',
      text: `${withAttributes} of ${facets} facets carry attribute bytes (often a color); they are ignored.`,
    });
  }
  return {
    mesh: {
      positions: float32Positions(welder),
      triangles: droppedCount === 0 ? triangles : triangles.slice(0, corner),
    },
    notes,
  };
}

/** NaN and the infinities have all bits of the exponent set (IEEE 754). */
function notFinite(bits: number): boolean {
  return (bits & 0x7f800000) === 0x7f800000;
}

function fill(source: ByteSource, offset: number, into: Uint8Array, facet: number): void {
  if (source.read(offset, into) === into.length) return;
  throw new InputError(
    'source-short',
    'the file ended while it was being read',
    'See that nothing writes to the file meanwhile, then try again.',
    { facet: facet + 1, byte: offset },
  );
}
