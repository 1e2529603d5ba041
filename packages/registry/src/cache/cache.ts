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
  readonly segments: Segments | null;
  /** What was put in this process. */
  readonly values: Map<string, string>;
  /** Keys of those that are not yet written. */
  readonly pending: Set<string>;
}

/** @param folder null for a cache that only lasts as long as this process */
export function openCache(folder: string | null, maxBytesPerKind?: number): Cache {
  const kinds = new Map<string, Kind>();
  let pendingBytes = 0;
  let written = Date.now();

  function kindOf(kind: string, version: number): Kind {
    const name = `${kind}-${version}`;
    const known = kinds.get(name);
    if (known !== undefined) return known;
    if (!/^[a-z0-9-]+$/.test(name)) throw new Error(`'${name}' is no name of a kind.`);
    const segments = folder === null ? null : openSegments(path.join(folder, name), maxBytesPerKind);
    const made: Kind = { segments, values: new Map(), pending: new Set() };
    kinds.set(name, made);
    return made;
  }

  function flush(): void {
    for (const { segments, values, pending } of kinds.values()) {
      if (segments === null || pending.size === 0) continue;
      segments.add([...pending].map(key => entryLine(key, values.get(key) ?? '')).join(''));
      pending.clear();
    }
    pendingBytes = 0;
    written = Date.now();
  }

  return {
    lasting: folder !== null,
    get(kind, version, key) {
      const { segments, values } = kindOf(kind, version);
      const name = kept(key);
      const json = values.get(name);
      return json === undefined ? segments?.find(name) : (JSON.parse(json) as unknown);
    },
    put(kind, version, key, value) {
      const { values, pending } = kindOf(kind, version);
      const json = JSON.stringify(value);
      if (json.length > cacheDefaults.maxValueBytes) return;
      const name = kept(key);
      values.set(name, json);
      if (folder === null) return;
      pending.add(name);
      pendingBytes += json.length;
      if (pendingBytes > cacheDefaults.pendingBytes || Date.now() - written > cacheDefaults.pendingTime_ms)
        flush();
    },
    flush,
  };
}

/** A cache that remembers nothing from before. */
export function noCache(): Cache {
  return openCache(null);
}

/**
 * The key as it is kept: short plain ones as they are, others by a hash. 128 bits suffice against chance; nobody but the
 * user writes into the folder.
 */
function kept(key: string): string {
  return /^[\w./:@-]{1,160}$/.test(key)
    ? key
    : `#${createHash('sha256').update(key).digest('hex').slice(0, 32)}`;
}
