import type { ByteSource } from '../bytes.ts';
import type { MeshObject, Note, Unit } from '../types.ts';
import { addFace, addVertex, builtMesh, createMeshBuilder, type MeshBuilder } from '../weld/mesh-builder.ts';
import { checkObjectCount, isPlace } from './limits.ts';
import { droppedFacets, emptyObject } from './notes.ts';
import { solidName } from './stl-ascii-name.ts';
import { isConflictMarker, quotedWord, scanError, wordNumber } from './text/scan-error.ts';
import { nextLine, nextWord, scanText, wordIs, type TextScan } from './text/text-scan.ts';
import { toMillimeters } from './units.ts';

/** What has been read so far. */
interface Progress {
  readonly scan: TextScan;
  readonly unit: Unit;
  readonly objects: MeshObject[];
  readonly notes: Note[];
  /** Corners of the facet at hand. */
  readonly corners: Float64Array;
  /** Facets so far, dropped ones included. */
  facets: number;
  dropped: number;
  readonly firstDropped: number[];
  /** Solids so far, those without facets included. */
  solids: number;
  /** Name of the first solid. */
  firstName: string | null;
  /** Solids without `endsolid`, and what to say about the first of them. */
  unended: number;
  firstUnended: string;
}

/**
 * Reads a text STL file in one walk: one object per `solid` that has facets, welded exactly, in millimeters.
 *
 * Taken as they come: any case and layout, names of any kind, numbers like `.5`, `1.` or `+2`, a missing
 * `endsolid` (noted), solids without facets (noted and left out). Stored normals are not looked at. A facet with a corner that is not finite is dropped and
 * noted. Facet numbers count through all solids.
 *
 * @throws {InputError} with line and facet for anything else: `stl-facet-corners` for other than three corners,
 * `not-a-number`, `stl-truncated` inside a facet, `stl-syntax`, and `conflict-marker` where version control left
 * one.
 *
 * Grammar: StereoLithography interface description, 1989.
 */
export function readStlAscii(source: ByteSource, unit: Unit): { objects: MeshObject[]; notes: Note[] } {
  const progress: Progress = {
    scan: scanText(source),
    unit,
    objects: [],
    notes: [],
    corners: new Float64Array(9),
    facets: 0,
    dropped: 0,
    firstDropped: [],
    solids: 0,
    firstName: null,
    unended: 0,
    firstUnended: '',
  };
  const { scan, objects, notes } = progress;
  let found = nextWord(scan);
  while (found) {
    if (!wordIs(scan, 'solid')) throw unexpected(progress, '"solid"');
    found = readSolid(progress);
  }
  if (progress.unended > 0) {
    const more = progress.unended === 1 ? '' : `; so do ${progress.unended - 1} more`;
    notes.push({ code: 'stl-no-endsolid', text: `${progress.firstUnended}${more}.` });
  }
  notes.push(...droppedFacets(progress.dropped, progress.facets, progress.firstDropped));
  if (objects.length === 0) return emptyObject(progress.firstName, notes);
  const empty = progress.solids - objects.length;
  if (empty > 0) {
    const text = `${empty} of ${progress.solids} solids have no facets and were left out.`;
    notes.push({ code: 'no-facets', text });
  }
  return { objects, notes };
}

/** Reads from behind `solid` to the word after its end; false at the end of the text. */
function readSolid(progress: Progress): boolean {
  const { scan, objects } = progress;
  const { name, after } = solidName(scan);
  if (++progress.solids === 1) progress.firstName = name;
  // Made when the first facet comes: a file may hold any number of empty solids.
  let builder: MeshBuilder | null = null;
  if (after === 'normal') readFacet(progress, (builder ??= createMeshBuilder()), true);
  let found = after === 'endsolid' || nextWord(scan);
  while (found && wordIs(scan, 'facet')) {
    readFacet(progress, (builder ??= createMeshBuilder()), false);
    found = nextWord(scan);
  }
  if (builder !== null && builder.cornerCount > 0) {
    checkObjectCount(objects.length + 1);
    objects.push({ name, mesh: builtMesh(builder) });
  }
  if (found && wordIs(scan, 'endsolid')) {
    return nextLine(scan) && nextWord(scan);
  }
  if (found && !wordIs(scan, 'solid')) throw unexpected(progress, '"facet" or "endsolid"');
  if (++progress.unended === 1) {
    progress.firstUnended = `Solid ${progress.solids} has no "endsolid", and the file may have been cut off after facet ${progress.facets}`;
  }
  return found;
}

function readFacet(progress: Progress, builder: MeshBuilder, afterNormal: boolean): void {
  const { scan, corners } = progress;
  progress.facets++;
  skipNormal(progress, afterNormal);
  expect(progress, 'loop');
  let count = 0;
  for (;;) {
    word(progress);
    if (!wordIs(scan, 'vertex')) break;
    if (++count > 3) throw cornersError(progress, 'more than three corners');
    for (let k = 0; k < 3; k++) {
      word(progress);
      corners[3 * count - 3 + k] = wordNumber(scan, 'a coordinate', progress.facets);
    }
  }
  if (!wordIs(scan, 'endloop')) throw unexpected(progress, '"vertex" or "endloop"', progress.facets);
  if (count < 3) throw cornersError(progress, count === 1 ? '1 corner' : `${count} corners`);
  expect(progress, 'endfacet');
  for (let k = 0; k < 9; k++) {
    corners[k] = toMillimeters(corners[k], progress.unit);
    if (isPlace(corners[k])) continue;
    progress.dropped++;
    if (progress.firstDropped.length < 5) progress.firstDropped.push(progress.facets);
    return;
  }
  const a = addVertex(builder, corners[0], corners[1], corners[2]);
  const b = addVertex(builder, corners[3], corners[4], corners[5]);
  const c = addVertex(builder, corners[6], corners[7], corners[8]);
  addFace(builder, a, b, c);
}

/** Steps to `outer`; `normal` and three words for it may stand before, whatever they are. */
function skipNormal(progress: Progress, afterNormal: boolean): void {
  const { scan } = progress;
  if (!afterNormal) {
    word(progress);
    if (wordIs(scan, 'outer')) return;
    if (!wordIs(scan, 'normal')) throw unexpected(progress, '"normal" or "outer loop"', progress.facets);
  }
  for (let words = 0; words < 4; words++) {
    word(progress);
    if (wordIs(scan, 'outer')) return;
    if (wordIs(scan, 'vertex') || wordIs(scan, 'facet') || wordIs(scan, 'endfacet') || isConflictMarker(scan))
      break;
  }
  throw unexpected(progress, '"outer loop"', progress.facets);
}

function word(progress: Progress): void {
  if (nextWord(progress.scan)) return;
  progress.scan.wordStart = progress.scan.wordEnd = progress.scan.at;
  throw truncated(progress, progress.facets);
}

function expect(progress: Progress, wanted: string): void {
  word(progress);
  if (!wordIs(progress.scan, wanted)) throw unexpected(progress, `"${wanted}"`, progress.facets);
}

function unexpected(progress: Progress, wanted: string, facet?: number): Error {
  const { scan } = progress;
  // A word that the end of the file cuts off.
  if (scan.offset + scan.wordEnd === scan.source.size) return truncated(progress, facet);
  const what = `${quotedWord(scan)} stands where ${wanted} is due`;
  return scanError(scan, 'stl-syntax', what, 'Export the file again.', facet);
}

function truncated(progress: Progress, facet?: number): Error {
  const where = facet === undefined ? `after facet ${progress.facets}` : `inside facet ${facet}`;
  const what = `the file ends ${where}, before its end mark`;
  return scanError(progress.scan, 'stl-truncated', what, 'Fetch or export the file again.', facet);
}

function cornersError(progress: Progress, count: string): Error {
  return scanError(
    progress.scan,
    'stl-facet-corners',
    `facet ${progress.facets} has ${count}`,
    'If version control merged this file, take one of the two versions whole; else export it again as triangles.',
    progress.facets,
  );
}
