import { isAlias, isMap, isScalar, isSeq, type Document, type LineCounter, type Node, type Pair } from 'yaml';
import { defaults } from '../defaults.ts';
import type { DocumentPath } from '../problem.ts';

/** Where in a text something stands. */
export interface TextPlace {
  /** From 1. */
  readonly line: number;
  /** From 1, in UTF-16 units. */
  readonly column: number;
  /** The line, without its end; null where there is none or the place lies too far along it. */
  readonly source: string | null;
}

/** Finds line and column of offsets and of values. */
export interface Places {
  at(offset: number): TextPlace;
  /** The value at a path, or the nearest place that is there: of a group or list under a key, the key. */
  of(path: DocumentPath): TextPlace;
  /** The key itself. */
  ofKey(path: DocumentPath): TextPlace;
}

export function places(text: string, counter: LineCounter, document: Document | null): Places {
  const at = (offset: number): TextPlace => {
    const known =
      counter.lineStarts.length > 0 ? counter.linePos(Math.min(Math.max(offset, 0), text.length)) : null;
    const line = known === null || known.line === 0 ? 1 : known.line;
    const start = counter.lineStarts[line - 1] ?? 0;
    // A byte-order mark is no part of the first line.
    const mark = line === 1 && text.startsWith('\uFEFF') ? 1 : 0;
    const column = Math.max(1, (known?.col || 1) - mark);
    return { line, column, source: lineOf(text, start + mark, column) };
  };
  const of = (path: DocumentPath): TextPlace => {
    const spot = find(document, path);
    const node = spot.complete ? spot.value : null;
    if (node?.range && (isScalar(node) || isAlias(node)) && !(isScalar(node) && node.source === ''))
      return at(node.range[0]);
    return at(spot.key?.range?.[0] ?? spot.value?.range?.[0] ?? 0);
  };
  const ofKey = (path: DocumentPath): TextPlace => {
    const spot = find(document, path);
    return at(spot.key?.range?.[0] ?? spot.value?.range?.[0] ?? 0);
  };
  return { at, of, ofKey };
}

function lineOf(text: string, start: number, column: number): string | null {
  if (start >= text.length || column > defaults.sourceLine) return null;
  const end = text.indexOf('\n', start);
  const line = text.slice(start, Math.min(end < 0 ? text.length : end, start + defaults.sourceLine));
  return line.endsWith('\r') ? line.slice(0, -1) : line;
}

interface Spot {
  /** The key that the value, or the nearest group or list around it, stands under. */
  readonly key: Node | null;
  readonly value: Node | null;
  /** Whether the whole path is there. */
  readonly complete: boolean;
}

function find(document: Document | null, path: DocumentPath): Spot {
  let key: Node | null = null;
  let value = document?.contents ?? null;
  for (const step of path) {
    const group = isAlias(value) ? (value.resolve(document as Document) ?? null) : value;
    if (isMap(group)) {
      const pair = group.items.find(item => keyText(item) === String(step));
      if (pair === undefined) return { key, value, complete: false };
      key = pair.key as Node;
      value = pair.value as Node | null;
    } else if (isSeq(group) && group.items[Number(step)] !== undefined) {
      key = null;
      value = group.items[Number(step)] as Node;
    } else return { key, value, complete: false };
  }
  return { key, value, complete: true };
}

/** The text of a pair's key; null when it is no plain text. */
export function keyText(pair: Pair): string | null {
  return isScalar(pair.key) && typeof pair.key.value === 'string' ? pair.key.value : null;
}
