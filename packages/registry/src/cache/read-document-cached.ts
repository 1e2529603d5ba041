import { createHash } from 'node:crypto';
import { readDocument, type DocumentKind, type Documents, type ReadDocument } from '@kinprint/manifest';
import type { DocumentReader } from '../state/types.ts';
import type { Cache } from './cache.ts';

/** Rises with any change of the schemas or of how documents are read. */
const version = 1;

/**
 * `readDocument` that remembers: a text that was once read without any problem is not parsed and validated again.
 * Places are found by parsing after all, when one is asked for.
 */
export function cachedReader(cache: Cache): DocumentReader {
  return <K extends DocumentKind>(kind: K, text: string, file: string): ReadDocument<K> => {
    const key = createHash('sha256').update(text).digest('hex');
    const known = cache.get(`document-${kind}`, version, key) as Documents[K] | undefined;
    if (known !== undefined) return remembered(kind, text, file, known);
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
): ReadDocument<K> {
  let parsed: ReadDocument<K> | null = null;
  return {
    kind,
    file,
    text,
    value,
    problems: [],
    place: path => (parsed ??= readDocument(kind, text, file)).place(path),
  };
}
