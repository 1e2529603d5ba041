import type { ByteSource } from '../bytes.ts';
import { InputError } from '../error.ts';
import type { Mesh, Note } from '../types.ts';
import {
  batchPoints,
  createFloat32Welder,
  float32Positions,
  weldFloat32Batch,
} from '../weld/weld-float32.ts';
import { droppedFacets } from './notes.ts';
import { facetBytes, headBytes } from './stl-binary-size.ts';

/** Facets to one batch of the welder. */
const facetsPerBatch = batchPoints / 3;
/** Facets to one read: 250 KiB, which stay in the processor's cache. */
const facetsPerRead = 5 * facetsPerBatch;

/** What is seen in passing. */
interface Tally {
  dropped: number;
  readonly firstDropped: number[];
  withAttributes: number;
}

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
  const points = new Int32Array(9 * facetsPerBatch);
  const tally: Tally = { dropped: 0, firstDropped: [], withAttributes: 0 };
  let corners = 0;
  for (let first = 0; first < facets; first += facetsPerRead) {
    const count = Math.min(facetsPerRead, facets - first);
    fill(source, headBytes + facetBytes * first, buffer.subarray(0, facetBytes * count), first);
    for (let at = 0; at < count; at += facetsPerBatch) {
      const taken = takeCorners(view, at, Math.min(facetsPerBatch, count - at), first, points, tally);
      weldFloat32Batch(welder, points, 3 * taken, triangles, corners);
      corners += 3 * taken;
    }
  }
  const notes = droppedFacets(tally.dropped, facets, tally.firstDropped);
  if (tally.withAttributes > 0) {
    notes.push({
      code: 'stl-attributes',
      text: `${tally.withAttributes} of ${facets} facets carry attribute bytes (often a color); they are ignored.`,
    });
  }
  return {
    mesh: {
      positions: float32Positions(welder),
      triangles: tally.dropped === 0 ? triangles : triangles.slice(0, corners),
    },
    notes,
  };
}

/** Copies the corners of the records from `start` on into `points`, as bits; returns of how many that are finite. */
function takeCorners(
  view: DataView,
  start: number,
  count: number,
  first: number,
  points: Int32Array,
  tally: Tally,
): number {
  let to = 0;
  for (let i = 0, at = facetBytes * start + 12; i < count; i++, at += facetBytes) {
    const ax = view.getInt32(at, true);
    const ay = view.getInt32(at + 4, true);
    const az = view.getInt32(at + 8, true);
    const bx = view.getInt32(at + 12, true);
    const by = view.getInt32(at + 16, true);
    const bz = view.getInt32(at + 20, true);
    const cx = view.getInt32(at + 24, true);
    const cy = view.getInt32(at + 28, true);
    const cz = view.getInt32(at + 32, true);
    if (view.getUint16(at + 36, true) !== 0) tally.withAttributes++;
    const finite = isFinite3(ax, ay, az) && isFinite3(bx, by, bz) && isFinite3(cx, cy, cz);
    if (!finite) {
      tally.dropped++;
      if (tally.firstDropped.length < 5) tally.firstDropped.push(first + start + i + 1);
      continue;
    }
    points[to] = ax;
    points[to + 1] = ay;
    points[to + 2] = az;
    points[to + 3] = bx;
    points[to + 4] = by;
    points[to + 5] = bz;
    points[to + 6] = cx;
    points[to + 7] = cy;
    points[to + 8] = cz;
    to += 9;
  }
  return to / 9;
}

/** NaN and the infinities have all bits of the exponent set (IEEE 754). */
function isFinite3(x: number, y: number, z: number): boolean {
  const exponent = 0x7f800000;
  return (x & exponent) !== exponent && (y & exponent) !== exponent && (z & exponent) !== exponent;
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
