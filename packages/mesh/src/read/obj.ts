import type { ByteSource } from '../bytes.ts';
import { InputError } from '../error.ts';
import type { MeshObject, Note, Unit } from '../types.ts';
import { builtMesh, createMeshBuilder, type MeshBuilder } from '../weld/mesh-builder.ts';
import { checkObjectCount } from './limits.ts';
import { droppedFacets, emptyObject, guessedPolygons } from './notes.ts';
import { mostPolygonCorners } from './polygon.ts';
import {
  conflictMarker,
  isConflictMarker,
  numberInLine,
  quotedWord,
  scanError,
  wordInteger,
  wordNumber,
} from './text/scan-error.ts';
import {
  nextLine,
  nextWordInLine,
  restOfLine,
  scanText,
  wordIs,
  wordText,
  type TextScan,
} from './text/text-scan.ts';
import { toMillimeters } from './units.ts';
import { addPolygon, cornerBuffer, createVertexPool, poolVertex, type VertexPool } from './vertex-pool.ts';

interface Progress {
  readonly scan: TextScan;
  readonly unit: Unit;
  readonly pool: VertexPool;
  readonly corners: Uint32Array;
  readonly objects: MeshObject[];
  builder: MeshBuilder;
  /** Name of the object at hand. */
  name: string | null;
  /** Number of the object at hand, from 1. */
  owner: number;
  faces: number;
  dropped: number;
  readonly firstDropped: number[];
  guessed: number;
  /** Statements for points, lines, curves and free-form surfaces. */
  passedOver: number;
  /** Lines that begin with no keyword of the format, and the first of them. */
  unknown: number;
  unknownLine: number | null;
  /** True when the last word was followed by a backslash at the end of its line. */
  continued: boolean;
}

/**
 * Reads an OBJ file in one walk: one object per `o` that has faces, welded exactly, in millimeters.
 *
 * Polygons are cut into triangles in their plane, concave ones too. Groups, materials, normals, texture places,
 * colors behind a vertex and free-form geometry are passed over (points, lines and free-form are noted). A face
 * may use the vertices that stand before it.
 *
 * @throws {InputError} with line and column: `obj-index` for 0 or beyond the vertices so far, `obj-face-corners`
 * for fewer than 3 corners or more than 4096, `not-a-number`, `conflict-marker`, `obj-no-vertices`.
 *
 * Format: object file appendix of the format's first publisher.
 */
export function readObj(source: ByteSource, unit: Unit): { objects: MeshObject[]; notes: Note[] } {
  const progress: Progress = {
    scan: scanText(source),
    unit,
    pool: createVertexPool(16),
    corners: cornerBuffer(),
    objects: [],
    builder: createMeshBuilder(),
    name: null,
    owner: 1,
    faces: 0,
    dropped: 0,
    firstDropped: [],
    guessed: 0,
    passedOver: 0,
    unknown: 0,
    unknownLine: null,
    continued: false,
  };
  do {
    if (word(progress)) statement(progress);
    while (!isComment(progress.scan) && word(progress));
    progress.continued = false;
  } while (nextLine(progress.scan));
  if (progress.pool.count === 0) {
    throw new InputError('obj-no-vertices', 'the file has no vertices', 'Export the part again.');
  }
  endObject(progress);
  const notes = [
    ...droppedFacets(progress.dropped, progress.faces, progress.firstDropped),
    ...guessedPolygons(progress.guessed),
  ];
  if (progress.passedOver > 0) {
    const text = `${progress.passedOver} statements for points, lines or free-form geometry were passed over.`;
    notes.push({ code: 'obj-passed-over', text });
  }
  if (progress.unknownLine !== null) {
    const text = `${progress.unknown} lines with unknown statements were passed over (line ${progress.unknownLine} first).`;
    notes.push({ code: 'obj-unknown', text });
  }
  if (progress.objects.length > 0) return { objects: progress.objects, notes };
  return emptyObject(progress.name, notes);
}

const passedOver = ['p', 'l', 'curv', 'curv2', 'surf'];
const known = (
  'vt vn vp g s usemtl mtllib cstype deg bmat step parm trim hole scrv sp end con mg usemap maplib ' +
  'bevel c_interp d_interp lod shadow_obj trace_obj ctech stech call csh'
).split(' ');

function statement(progress: Progress): void {
  const { scan } = progress;
  if (isComment(scan)) return;
  if (wordIs(scan, 'v')) {
    const x = coordinate(progress);
    const y = coordinate(progress);
    poolVertex(progress.pool, x, y, coordinate(progress));
  } else if (wordIs(scan, 'f') || wordIs(scan, 'fo')) {
    face(progress);
  } else if (wordIs(scan, 'o')) {
    endObject(progress);
    progress.name = restOfLine(scan) || null;
  } else if (passedOver.some(keyword => wordIs(scan, keyword))) {
    progress.passedOver++;
  } else if (!known.some(keyword => wordIs(scan, keyword))) {
    if (isConflictMarker(scan)) throw conflictMarker(scan.line, wordText(scan).slice(0, 7));
    progress.unknownLine ??= scan.line;
    progress.unknown++;
  }
}

function coordinate(progress: Progress): number {
  if (!word(progress)) return numberInLine(progress.scan, 'a coordinate');
  return toMillimeters(wordNumber(progress.scan, 'a coordinate'), progress.unit);
}

function face(progress: Progress): void {
  const { scan, pool, corners } = progress;
  progress.faces++;
  let count = 0;
  while (word(progress) && !isComment(scan)) {
    if (count === mostPolygonCorners) throw cornerError(progress, `more than ${mostPolygonCorners} corners`);
    corners[count++] = cornerIndex(progress);
  }
  if (count < 3) throw cornerError(progress, `${count} corners; it needs 3`);
  const done = addPolygon(progress.builder, pool, corners, count, progress.owner);
  if (done === 'forced') progress.guessed++;
  if (done === 'dropped' && ++progress.dropped <= 5) progress.firstDropped.push(progress.faces);
}

/** The vertex that a corner like `7`, `-1`, `7/2/3` or `7//3` names, from 0. */
function cornerIndex(progress: Progress): number {
  const { scan, pool } = progress;
  const slash = scan.buffer.subarray(scan.wordStart, scan.wordEnd).indexOf(0x2f);
  const index = wordInteger(scan, slash < 0 ? scan.wordEnd : scan.wordStart + slash);
  const vertex = index < 0 ? pool.count + index : index - 1;
  if (vertex >= 0 && vertex < pool.count) return vertex;
  const reason = Number.isNaN(index)
    ? `${quotedWord(scan)} is no vertex index`
    : index === 0
      ? 'vertex index 0 is never valid, indices start at 1'
      : `vertex index ${index} is beyond the ${pool.count} vertices so far`;
  throw scanError(scan, 'obj-index', reason, 'Export the file again.', progress.faces);
}

function cornerError(progress: Progress, count: string): Error {
  return scanError(
    progress.scan,
    'obj-face-corners',
    `face ${progress.faces} has ${count}`,
    'Export the file again, as triangles.',
    progress.faces,
  );
}

function endObject(progress: Progress): void {
  if (progress.builder.cornerCount === 0) return;
  checkObjectCount(progress.objects.length + 1);
  progress.objects.push({ name: progress.name, mesh: builtMesh(progress.builder) });
  progress.builder = createMeshBuilder();
  progress.owner++;
}

const hash = 0x23;
const backslash = 0x5c;

/** The next word of the statement, which goes on behind a backslash at the end of a line. */
function word(progress: Progress): boolean {
  const { scan } = progress;
  for (;;) {
    if (progress.continued) {
      progress.continued = false;
      if (!nextLine(scan)) return false;
    }
    if (!nextWordInLine(scan)) return false;
    if (scan.buffer[scan.wordEnd - 1] !== backslash) return true;
    progress.continued = true;
    scan.wordEnd--;
    if (scan.wordEnd > scan.wordStart) return true;
  }
}

/** True when the word found last begins a comment, which runs to the end of the line. */
function isComment(scan: TextScan): boolean {
  return scan.wordEnd > scan.wordStart && scan.buffer[scan.wordStart] === hash;
}
