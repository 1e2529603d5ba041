import { createHash } from 'node:crypto';
import {
  isDocument,
  readDocument,
  schemaFiles,
  type DocumentKind,
  type DocumentPath,
  type Documents,
  type ReadDocument,
  type TextPlace,
} from '@kinprint/manifest';
import type { DocumentReader } from '../state/types.ts';
import type { Cache } from './cache.ts';

/** Rises with any change of how documents are read; that the schemas change is seen by itself. */
const version = 1;

/**
 * `readDocument` that remembers: a text that was once read without any problem is not parsed and validated again, nor
 * are places in it looked up twice. Documents with problems are read anew each time.
 */
export function cachedReader(cache: Cache): DocumentReader {
  const schemas = createHash('sha256').update(JSON.stringify(schemaFiles)).digest('hex').slice(0, 32);
  return <K extends DocumentKind>(kind: K, text: string, file: string): ReadDocument<K> => {
    const key = `${schemas}:${createHash('sha256').update(text).digest('hex')}`;
    const known = cache.get(`document-${kind}`, version, key);
    // Cheap beside parsing; and nothing that is no manifest goes further as one.
    if (isDocument(kind, known)) return remembered(kind, text, file, known, cache, key);
    const document = readDocument(kind, text, file);
    if (document.value !== null && document.problems.length === 0)
      cache.put(`document-${kind}`, version, key, document.value);
    return document;
  };
}

function remembered<K extends DocumentKind>(
  kind: K,
  text: string,
  file: string,
  value: Documents[K],
  cache: Cache,
  key: string,
): ReadDocument<K> {
  let parsed: ReadDocument<K> | null = null;
  function place(path: DocumentPath): TextPlace {
    const placeKey = `${key} ${JSON.stringify(path)}`;
    const known = cache.get('document-place', version, placeKey);
    if (isPlace(known)) return known;
    const found = (parsed ??= readDocument(kind, text, file)).place(path);
    cache.put('document-place', version, placeKey, found);
    return found;
  }
  return { kind, file, text, value, problems: [], place };
}

function isPlace(value: unknown): value is TextPlace {
  if (typeof value !== 'object' || value === null) return false;
  const { line, column, source } = value as Partial<TextPlace>;
  return (
    Number.isSafeInteger(line) &&
    Number.isSafeInteger(column) &&
    (source === null || typeof source === 'string')
  );
}
