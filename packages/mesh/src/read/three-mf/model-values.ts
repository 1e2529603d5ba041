import type { Transform } from './model.ts';
import type { XmlElement, XmlReader } from './xml.ts';

/** ST_Number (3MF Core Specification 1.4.0, appendix B.1): no `1.`, no NaN, no hexadecimal, no blanks. */
const numberPattern = /^[+-]?(\d+(\.\d+)?|\.\d+)([eE][+-]?\d+)?$/;

/** A required attribute. */
export function required(element: XmlElement, xml: XmlReader, name: string): string {
  const text = element.attribute(name);
  if (text === undefined) throw xml.error('3mf-attribute', `<${element.local}> lacks the attribute ${name}`);
  return text;
}

/** A required attribute of type ST_Number, finite. */
export function numberAttribute(element: XmlElement, xml: XmlReader, name: string): number {
  return parseNumber(required(element, xml, name), xml, name);
}

/** A required attribute of type ST_ResourceID (from 1) or ST_ResourceIndex (from 0), below 2^31. */
export function integerAttribute(element: XmlElement, xml: XmlReader, name: string, least: 0 | 1): number {
  const text = required(element, xml, name);
  const value = /^\d{1,10}$/.test(text) ? Number(text) : -1;
  if (value >= least && value < 2 ** 31) return value;
  throw xml.error('3mf-number', `${name} is ${quoted(text)}, not a whole number from ${least}`);
}

/** Twelve numbers with single blanks between, as ST_Matrix3D. */
export function parseTransform(text: string, xml: XmlReader): Transform {
  const words = text.trim().split(/\s+/, 13);
  if (words.length !== 12)
    throw xml.error('3mf-transform', `a transform has 12 numbers, not as in ${quoted(text)}`);
  return Float64Array.from(words, word => parseNumber(word, xml, 'transform'));
}

function parseNumber(text: string, xml: XmlReader, name: string): number {
  if (!numberPattern.test(text)) throw xml.error('3mf-number', `${name} is ${quoted(text)}, not a number`);
  const value = Number(text);
  if (!Number.isFinite(value)) throw xml.error('3mf-number', `${name} is ${quoted(text)}, too large`);
  return value;
}

function quoted(text: string): string {
  return JSON.stringify(text.slice(0, 40));
}
