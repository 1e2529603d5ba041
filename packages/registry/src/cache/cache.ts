import { createHash } from 'node:crypto';
import path from 'node:path';
import { cacheDefaults } from './defaults.ts';
import { entryLine } from './segment.ts';
import { openSegments, type Segments } from './segments.ts';

/**
 * Values that were expensive to make, kept between runs by what they were made from. Several processes may use one
 * cache at a time. It forgets without notice and never fails: what it does not know is made again.
 */
export interface Cache {
  /** Whether anything outlives this process. */
  readonly lasting: boolean;
  /**
   * A value that was put, or undefined. It comes from a file: whoever takes it checks its form, or trusts `version`.
   *
   * @param kind lower-case words with hyphens, e.g. `measured-part`
   * @param version of the value's form and meaning; other versions are not seen
   * @param key everything that the value depends on, any text
   */
  get(kind: string, version: number, key: string): unknown;
  /** @param value plain data that JSON keeps: no undefined, no NaN, no typed arrays */
  put(kind: string, version: number, key: string, value: unknown): void;
  /** Writes what is pending. To be called at the end; values put after it are written by the next call. */
  flush(): void;
}

interface Kind {
  segments: Segments | null;
  readonly pending: Map<string, string>;
}

/** @param folder null for a cache that only lasts as long as this process */
export function openCache(folder: string | null, maxBytesPerKind?: number): Cache {
  const kinds = new Map<string, Kind>();
  // Values of this run when nothing lasts.
  const memory = new Map<string, string>();
  let pendingBytes = 0;
  let written = Date.now();

  function kindOf(kind: string, version: number): Kind {
    const name = `${kind}-${version}`;
    const known = kinds.get(name);
    if (known !== undefined) return known;
    if (!/^[a-z0-9-]+$/.test(name)) throw new Error(`'${name}' is no name of a kind.`);
    const segments = folder === null ? null : openSegments(path.join(folder, name), maxBytesPerKind);
    const made: Kind = { segments, pending: folder === null ? memory : new Map<string, string>() };
    kinds.set(name, made);
    return made;
  }

  function flush(): void {
    for (const { segments, pending } of kinds.values()) {
      if (segments === null || pending.size === 0) continue;
      segments.add([...pending].map(([key, json]) => entryLine(key, json)).join(''));
      // Values stay at hand for this process.
      for (const [key, json] of pending) memory.set(key, json);
      pending.clear();
    }
    pendingBytes = 0;
    written = Date.now();
  }

  return {
    lasting: folder !== null,
    get(kind, version, key) {
      const { segments, pending } = kindOf(kind, version);
      const hash = hashed(kind, version, key);
      const json = pending.get(hash) ?? memory.get(hash);
      return json === undefined ? segments?.find(hash) : (JSON.parse(json) as unknown);
    },
    put(kind, version, key, value) {
      const { pending } = kindOf(kind, version);
      const json = JSON.stringify(value);
      if (json.length > cacheDefaults.maxValueBytes) return;
      pending.set(hashed(kind, version, key), json);
      pendingBytes += json.length;
      const due =
        pendingBytes > cacheDefaults.pendingBytes || Date.now() - written > cacheDefaults.pendingTime_ms;
      if (folder !== null && due) flush();
    },
    flush,
  };
}

/** A cache that remembers nothing from before. */
export function noCache(): Cache {
  return openCache(null);
}

/** 128 bits suffice against chance; nobody but the user writes into the folder. */
function hashed(kind: string, version: number, key: string): string {
  return createHash('sha256').update(`${kind} ${version} ${key}`).digest('hex').slice(0, 32);
}
