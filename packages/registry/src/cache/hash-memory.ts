import { lstatSync } from 'node:fs';
import type { HashKey, HashMemory } from '../state/registry-files.ts';
import type { Cache } from './cache.ts';
import { cacheDefaults } from './defaults.ts';

const kind = 'content-hash';
const version = 1;

/** What the file system says of a file: [size, modified ns, changed ns, inode, device], in decimal digits. */
type Look = readonly [string, string, string, string, string];

/**
 * Remembers SHA-256 between runs: of git objects by their id (which fixes the content), of files by path as long as
 * size, both times, inode and device are what they were. A file that was changed just before it was hashed is not
 * remembered, as it may change again within what the clock of the file system tells apart.
 *
 * @param now milliseconds since 1970
 */
export function hashMemory(cache: Cache, now: () => number = Date.now): HashMemory {
  // What was told is often learned again.
  const told = new Map<string, string>();
  const find = (key: HashKey, text: string): string | null => {
    const entry = cache.get(kind, version, text);
    if (key.kind === 'object') return isHash(entry) ? entry : null;
    const look = Array.isArray(entry) ? lookAt(key.path) : null;
    return look === null ? null : matching(entry, look);
  };
  return {
    known(key) {
      const text = keyText(key);
      const hash = find(key, text);
      if (hash !== null) told.set(text, hash);
      return hash;
    },
    learn(key, sha256) {
      const text = keyText(key);
      if (told.get(text) === sha256) return;
      if (key.kind === 'object') {
        cache.put(kind, version, text, sha256);
        return;
      }
      const look = lookAt(key.path);
      if (look === null) return;
      const latest = Math.max(Number(look[1]), Number(look[2])) / 1e6;
      if (latest + cacheDefaults.racy_ms < now()) cache.put(kind, version, text, [sha256, ...look]);
    },
  };
}

/** The hash of an entry when the file system still says the same of the file. */
function matching(entry: unknown, look: Look): string | null {
  if (!Array.isArray(entry) || entry.length !== 6) return null;
  const [hash, ...then] = entry as unknown[];
  return isHash(hash) && look.every((value, k) => value === then[k]) ? hash : null;
}

function keyText(key: HashKey): string {
  return key.kind === 'object' ? `${key.format}:${key.id}` : `file:${key.path}`;
}

function isHash(value: unknown): value is string {
  return typeof value === 'string' && /^[0-9a-f]{64}$/.test(value);
}

function lookAt(file: string): Look | null {
  try {
    const s = lstatSync(file, { bigint: true });
    if (!s.isFile()) return null;
    return [`${s.size}`, `${s.mtimeNs}`, `${s.ctimeNs}`, `${s.ino}`, `${s.dev}`];
  } catch {
    return null;
  }
}
