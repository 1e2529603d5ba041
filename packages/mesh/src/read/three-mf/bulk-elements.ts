import { parseDecimal, parseInteger } from '../text/decimal.ts';
import type { GrowingMesh } from './growing-mesh.ts';

/** Where a scan stopped. */
export interface BulkStop {
  /** First byte that was not taken. */
  readonly at: number;
  /** True when the bytes ran out within an element or between elements; false when something else came. */
  readonly open: boolean;
}

/** An element that is longer is left to the XML reader. */
const longestElement = 1024;

/**
 * Takes `<vertex …/>` or `<triangle …/>` elements off the front of `bytes`, from `start` on. Nearly all of a model
 * part is made of these, and a general XML reader spends most of its time on them.
 *
 * Whatever is not plain, from a comment to a number that the format does not allow, stops the scan before it, so
 * that the XML reader sees it and no rule is judged twice.
 */
export function takeBulk(
  kind: 'vertices' | 'triangles',
  mesh: GrowingMesh,
  bytes: Uint8Array,
  start: number,
): BulkStop {
  const take = kind === 'vertices' ? takeVertex : takeTriangle;
  let at = start;
  for (;;) {
    while (at < bytes.length && isBlank(bytes[at])) at++;
    if (at === bytes.length) return { at, open: true };
    const next = take(mesh, bytes, at);
    if (next === cutOff && bytes.length - at < longestElement) return { at, open: true };
    if (next < 0) return { at, open: false };
    at = next;
  }
}

/** The bytes end within the element. */
const cutOff = -1;
/** Something else than a plain element. */
const other = -2;

const vertexHead = Uint8Array.from('<vertex', c => c.charCodeAt(0));
const triangleHead = Uint8Array.from('<triangle', c => c.charCodeAt(0));
const values = new Float64Array(3);

function takeVertex(mesh: GrowingMesh, bytes: Uint8Array, start: number): number {
  const next = takeAttributes(bytes, start, vertexHead, vertexSlot, strictDecimal);
  if (next >= 0) mesh.addVertex(values[0], values[1], values[2]);
  return next;
}

function takeTriangle(mesh: GrowingMesh, bytes: Uint8Array, start: number): number {
  const next = takeAttributes(bytes, start, triangleHead, triangleSlot, plainIndex);
  if (next < 0) return next;
  const count = mesh.vertexCount();
  if (values[0] >= count || values[1] >= count || values[2] >= count) return other;
  mesh.addTriangle(values[0], values[1], values[2]);
  return next;
}

/** Which of the three values an attribute holds, by its name in `bytes[start…end)`; −1 for another attribute. */
type SlotOf = (bytes: Uint8Array, start: number, end: number) => number;

function vertexSlot(bytes: Uint8Array, start: number, end: number): number {
  const slot = bytes[start] - 0x78;
  return end - start === 1 && slot >= 0 && slot < 3 ? slot : -1;
}

function triangleSlot(bytes: Uint8Array, start: number, end: number): number {
  const slot = bytes[start + 1] - 0x31;
  return end - start === 2 && bytes[start] === 0x76 && slot >= 0 && slot < 3 ? slot : -1;
}

/** Reads one empty element into `values`; returns the byte behind it, `cutOff` or `other`. */
function takeAttributes(
  bytes: Uint8Array,
  start: number,
  head: Uint8Array,
  slotOf: SlotOf,
  parse: (bytes: Uint8Array, start: number, end: number) => number,
): number {
  const { length } = bytes;
  for (let i = 0; i < head.length; i++) {
    if (start + i === length) return cutOff;
    if (bytes[start + i] !== head[i]) return other;
  }
  let at = start + head.length;
  let seen = 0;
  for (;;) {
    const before = at;
    while (at < length && isBlank(bytes[at])) at++;
    if (at + 1 >= length) return cutOff;
    if (bytes[at] === 0x2f) return bytes[at + 1] === 0x3e && seen === 0b111 ? at + 2 : other;
    if (at === before) return other;
    const name = at;
    while (at < length && isNameByte(bytes[at])) at++;
    if (at + 1 >= length) return cutOff;
    const quote = bytes[at + 1];
    if (at === name || bytes[at] !== 0x3d || (quote !== 0x22 && quote !== 0x27)) return other;
    const value = at + 2;
    const slot = slotOf(bytes, name, at);
    at = value;
    while (at < length && bytes[at] !== quote && bytes[at] !== 0x3c && bytes[at] !== 0x26) at++;
    if (at === length) return cutOff;
    if (bytes[at] !== quote) return other;
    if (slot >= 0) {
      const number = parse(bytes, value, at);
      if (!Number.isFinite(number) || (seen & (1 << slot)) !== 0) return other;
      values[slot] = number;
      seen |= 1 << slot;
    }
    at++;
  }
}

/** A number as ST_Number allows it (a point needs a digit behind it), else NaN. */
function strictDecimal(bytes: Uint8Array, start: number, end: number): number {
  for (let at = start; at < end; at++) {
    if (bytes[at] === 0x2e && !(bytes[at + 1] >= 0x30 && bytes[at + 1] <= 0x39)) return NaN;
  }
  return parseDecimal(bytes, start, end);
}

function plainIndex(bytes: Uint8Array, start: number, end: number): number {
  return bytes[start] === 0x2b || bytes[start] === 0x2d || end - start > 10
    ? NaN
    : parseInteger(bytes, start, end);
}

function isBlank(byte: number): boolean {
  return byte === 0x20 || byte === 0x0a || byte === 0x0d || byte === 0x09;
}

/** Letters, digits and `:`, `_`, `-`, `.`: plain names, with or without a prefix. */
function isNameByte(byte: number): boolean {
  const letter = byte | 0x20;
  return (
    (letter >= 0x61 && letter <= 0x7a) || (byte >= 0x2d && byte <= 0x3a && byte !== 0x2f) || byte === 0x5f
  );
}
