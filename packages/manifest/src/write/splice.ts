import {
  isAlias,
  isCollection,
  isMap,
  isNode,
  isScalar,
  isSeq,
  parseDocument,
  stringify,
  type Document,
  type Node,
  type Pair,
  Scalar,
  type YAMLMap,
  type YAMLSeq,
} from 'yaml';
import { keyText } from '../read/places.ts';
import { withEdit, type Edit } from './value-at.ts';

/** How text of several lines is written: as blocks, or in double quotes on one line. */
export type TextStyle = 'blocks' | 'quotes';

/**
 * The text with one change made in it and every other character left alone; null where that is not simply possible.
 * What comes out may be wrong in odd layouts: whoever calls parses it again and compares.
 */
export function spliced(text: string, document: Document, edit: Edit, style: TextStyle): string | null {
  const { path, value } = lifted(document, edit);
  const parent = document.getIn(path.slice(0, -1), true);
  const step = path.at(-1);
  if (isMap(parent) && !parent.flow && parent.items.length > 0) {
    const pair = parent.items.find(item => keyText(item) === String(step)) as
      Pair<Node, Node | null> | undefined;
    if (pair === undefined)
      return value === undefined ? null : addedKey(text, parent, String(step), value, style);
    return value === undefined
      ? removed(text, pair.key, lastLeaf(pair))
      : changedValue(text, pair, value, style);
  }
  if (isSeq(parent) && !parent.flow && parent.items.length > 0 && typeof step === 'number') {
    const item = parent.items[step] as Node | undefined;
    if (item === undefined) return value === undefined ? null : addedItem(text, parent, value, style);
    return value === undefined ? removedItem(text, item) : changedItem(text, item, value, style);
  }
  const bracketed = inBrackets(text, document, { path, value });
  if (bracketed !== null) return bracketed;
  const scalar = document.getIn(path, true);
  return isScalar(scalar) && value !== undefined ? changedScalar(text, scalar, value, style) : null;
}

/** The first entry of an empty list or group, and the removal of its last, are changes of the list or group itself. */
function lifted(document: Document, edit: Edit): Edit {
  const path = edit.path.slice(0, -1);
  const parent = document.getIn(path, true);
  if (path.length === 0 || isAlias(parent)) return edit;
  const needed = edit.value === undefined ? 2 : 1;
  if (isCollection(parent) && parent.items.length >= needed) return edit;
  const old: unknown = isNode(parent) ? parent.toJS(document) : undefined;
  const value = withEdit(old, { path: edit.path.slice(-1), value: edit.value });
  return lifted(document, { path, value });
}

/** A change within brackets: the outermost ones are written anew, in one line if they were. */
function inBrackets(text: string, document: Document, { path, value }: Edit): string | null {
  const outer = path.findIndex((_, i) => i > 0 && isFlow(document.getIn(path.slice(0, i), true)));
  if (outer < 0) return null;
  const node = document.getIn(path.slice(0, outer), true) as Node;
  if (!node.range || node.anchor || node.commentBefore) return null;
  const [start, end] = node.range;
  const group = parseDocument(text.slice(start, end));
  const rest = path.slice(outer);
  try {
    if (value === undefined) group.deleteIn(rest);
    else group.setIn(rest, group.createNode(value, { flow: true, aliasDuplicateObjects: false }));
  } catch {
    // The library refuses to go through an alias or a simple value.
    return null;
  }
  const lines = group.toString({ lineWidth: 0 }).trimEnd();
  return text.slice(0, start) + indented(lines, columnOf(text, start)) + text.slice(end);
}

function isFlow(node: unknown): boolean {
  return (isMap(node) || isSeq(node)) && node.flow === true && node.items.length > 0;
}

const written = (value: unknown, style: TextStyle): string =>
  stringify(value, { lineWidth: 0, blockQuote: style === 'blocks', aliasDuplicateObjects: false }).replace(
    /\n$/,
    '',
  );

function changedScalar(text: string, old: Scalar, value: unknown, style: TextStyle): string | null {
  if (!old.range || typeof value === 'object' || old.type === 'BLOCK_LITERAL' || old.type === 'BLOCK_FOLDED')
    return null;
  const scalar = new Scalar(value);
  // The way it is quoted is kept where it was quoted.
  if (typeof value === 'string' && old.type !== undefined) scalar.type = old.type;
  const line = written(scalar, style);
  if (line.includes('\n')) return null;
  return text.slice(0, old.range[0]) + line + text.slice(old.range[1]);
}

function changedValue(
  text: string,
  pair: Pair<Node, Node | null>,
  value: unknown,
  style: TextStyle,
): string | null {
  if (isScalar(pair.value) && pair.value.source !== '') {
    const simple = changedScalar(text, pair.value, value, style);
    if (simple !== null) return simple;
  }
  const start = pair.key.range?.[0];
  const end = lastLeaf(pair)?.range?.[1];
  if (start === undefined || end === undefined) return null;
  const lines = written({ [keyText(pair) ?? '']: value }, style);
  return text.slice(0, start) + indented(lines, columnOf(text, start)) + breakAt(text, end) + text.slice(end);
}

function changedItem(text: string, item: Node, value: unknown, style: TextStyle): string | null {
  if (isScalar(item)) {
    const simple = changedScalar(text, item, value, style);
    if (simple !== null) return simple;
  }
  const start = item.range?.[0];
  const end = lastLeaf(item)?.range?.[1];
  if (start === undefined || end === undefined) return null;
  return (
    text.slice(0, start) +
    indented(written(value, style), columnOf(text, start)) +
    breakAt(text, end) +
    text.slice(end)
  );
}

function addedKey(text: string, map: YAMLMap, key: string, value: unknown, style: TextStyle): string | null {
  const first = (map.items[0]?.key as Node | undefined)?.range?.[0];
  return first === undefined
    ? null
    : added(text, map, written({ [key]: value }, style), columnOf(text, first));
}

function addedItem(text: string, list: YAMLSeq, value: unknown, style: TextStyle): string | null {
  const first = (list.items[0] as Node).range?.[0];
  if (first === undefined) return null;
  const dash = text.lastIndexOf('-', first - 1);
  return added(text, list, written([value], style), columnOf(text, dash));
}

/** Lines put below everything that a group or list has so far. */
function added(text: string, group: Node, lines: string, column: number): string | null {
  const last = lastLeaf(group)?.range?.[1];
  if (last === undefined) return null;
  const at = lineEnd(text, last);
  const before = text.slice(0, at);
  const newline = before.endsWith('\n') ? '' : '\n';
  return `${before}${newline}${' '.repeat(column)}${indented(lines, column)}\n${text.slice(at)}`;
}

function removed(text: string, first: Node, last: Node | null): string | null {
  const start = first.range?.[0];
  const end = last?.range?.[1];
  if (start === undefined || end === undefined) return null;
  const lineStart = text.lastIndexOf('\n', start - 1) + 1;
  if (text.slice(lineStart, start).trim() !== '') return null;
  return text.slice(0, lineStart) + text.slice(lineEnd(text, end));
}

function removedItem(text: string, item: Node): string | null {
  const start = item.range?.[0];
  const end = lastLeaf(item)?.range?.[1];
  if (start === undefined || end === undefined) return null;
  const lineStart = text.lastIndexOf('\n', start - 1) + 1;
  if (!/^ *- *$/.test(text.slice(lineStart, start))) return null;
  return text.slice(0, lineStart) + text.slice(lineEnd(text, end));
}

/** The node that ends a value in the text: the last of its last, or the brackets around them. */
function lastLeaf(of: Node | Pair): Node | null {
  let node: unknown = of;
  for (;;) {
    if (isMap(node) && !node.flow && node.items.length > 0) node = node.items.at(-1);
    else if (isSeq(node) && !node.flow && node.items.length > 0) node = node.items.at(-1);
    else if (node !== null && typeof node === 'object' && 'key' in node)
      node = (node as Pair).value ?? (node as Pair).key;
    else return (node as Node | null) ?? null;
  }
}

function lineEnd(text: string, from: number): number {
  // A block of text ends behind its last line break already.
  if (text[from - 1] === '\n') return from;
  const end = text.indexOf('\n', from);
  return end < 0 ? text.length : end + 1;
}

/** A block of text took its line break with it; what replaces it needs one. */
function breakAt(text: string, end: number): string {
  return text[end - 1] === '\n' ? '\n' : '';
}

function columnOf(text: string, offset: number): number {
  const start = text.lastIndexOf('\n', offset - 1) + 1;
  return offset - start - (start === 0 && text.startsWith('\uFEFF') ? 1 : 0);
}

/** All lines but the first moved right; empty ones stay empty. */
function indented(lines: string, column: number): string {
  return lines.replace(/\n(?=[^\n])/g, `\n${' '.repeat(column)}`);
}
