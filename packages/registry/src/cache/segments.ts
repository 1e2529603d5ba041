import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { randomBytes } from 'node:crypto';
import path from 'node:path';
import { cacheDefaults } from './defaults.ts';
import { entryValue, indexSegment } from './segment.ts';

interface Located {
  readonly segment: Buffer;
  readonly start: number;
  readonly end: number;
}

/** What several processes have written of one kind of value, each into files of its own. */
export interface Segments {
  find(key: string): unknown;
  has(key: string): boolean;
  /** Writes lines as one more file; other processes see all of it or nothing. */
  add(lines: string): void;
}

/**
 * Opens a folder of segments. Files are written under another name and then renamed, and never changed; too many are
 * joined, the oldest beyond the bound left out. Two processes that join at once make the same entries twice, which
 * the next joining mends. What cannot be read or written is as if it were not there: a cache must not stop any work.
 */
export function openSegments(folder: string, maxBytes: number = cacheDefaults.maxBytesPerKind): Segments {
  const index = new Map<string, Located>();
  const names = listSegments(folder);
  const read: string[] = [];
  let total = 0;
  for (const name of names) {
    const bytes = readQuietly(path.join(folder, name));
    if (bytes === null) continue;
    read.push(name);
    total += bytes.length;
    indexSegment(bytes, (key, start, end) => {
      index.delete(key); // so that the order is that of writing
      index.set(key, { segment: bytes, start, end });
    });
  }
  if (read.length > cacheDefaults.maxSegments || total > maxBytes) join(folder, read, index, maxBytes);

  return {
    has: key => index.has(key),
    find(key) {
      const at = index.get(key);
      return at === undefined ? undefined : entryValue(at.segment.subarray(at.start, at.end))?.value;
    },
    add: lines => void write(folder, lines),
  };
}

/** Names begin with the time, so that the order of names is the order of writing. */
function listSegments(folder: string): string[] {
  try {
    return readdirSync(folder, { withFileTypes: true })
      .filter(entry => entry.isFile() && entry.name.endsWith(ending)) // no pipe that never ends, no link
      .map(entry => entry.name)
      .sort();
  } catch {
    return [];
  }
}

const ending = '.segment';

function readQuietly(file: string): Buffer | null {
  try {
    return readFileSync(file);
  } catch {
    return null; // joined by another process in the meantime, or not ours to read
  }
}

function write(folder: string, content: string | Buffer): boolean {
  const name = `${timeText(performance.timeOrigin + performance.now())}-${randomBytes(6).toString('hex')}`;
  const temporary = path.join(folder, `${name}.tmp`);
  try {
    makeFolder(folder);
    writeFileSync(temporary, content, { mode: 0o600, flag: 'wx' });
    renameSync(temporary, path.join(folder, name + ending));
    return true;
  } catch {
    removeQuietly(temporary);
    return false;
  }
}

/** Node's own `recursive` tries without end where a file system denies that a folder can be, as /proc does. */
function makeFolder(folder: string): void {
  if (existsSync(folder)) return;
  const above = path.dirname(folder);
  if (above !== folder) makeFolder(above);
  try {
    mkdirSync(folder, { mode: 0o700 });
  } catch (error) {
    if (!existsSync(folder)) throw error; // else another process was faster
  }
}

/** Joins what was read into one file. Entries are kept from the newest on, while there is room for half the bound. */
function join(folder: string, names: readonly string[], index: Map<string, Located>, maxBytes: number): void {
  const kept: Buffer[] = [];
  let size = 0;
  for (const [key, { segment, start, end }] of [...index].reverse()) {
    const line = segment.subarray(start, end + 1);
    if (size + line.length > maxBytes / 2) {
      index.delete(key);
      continue;
    }
    size += line.length;
    kept.push(line);
  }
  if (!write(folder, Buffer.concat(kept.reverse()))) return;
  for (const name of names) removeQuietly(path.join(folder, name));
  removeLeftovers(folder);
}

/** What killed processes left, of another day so that no living one is meant. */
function removeLeftovers(folder: string): void {
  const day = timeText(Date.now() - 86_400_000);
  for (const name of readdirSync(folder))
    if (name.endsWith('.tmp') && name < day) removeQuietly(path.join(folder, name));
}

function removeQuietly(file: string): void {
  try {
    rmSync(file, { force: true });
  } catch {
    // It does no harm where it lies.
  }
}

/** Microseconds since 1970, so that names sort by time. */
function timeText(time_ms: number): string {
  return Math.round(time_ms * 1000)
    .toString(36)
    .padStart(11, '0');
}
