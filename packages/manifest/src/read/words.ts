import type { DocumentPath } from '../problem.ts';

/** What a place is called: `entry 3 of 'parts'`, `'print'`; null for the document itself. */
export function placeName(path: DocumentPath): string | null {
  const last = path.at(-1);
  if (last === undefined) return null;
  if (typeof last === 'string') return `'${last}'`;
  const list = path.findLast(step => typeof step === 'string');
  return `entry ${last + 1} of '${list ?? 'the list'}'`;
}

/** What a value is, for people: `the number 3`, `a list`. */
export function kindOf(value: unknown): string {
  if (value === null || value === undefined) return 'empty';
  if (Array.isArray(value)) return 'a list';
  if (typeof value === 'object') return 'a group of keys';
  if (typeof value === 'number') return `the number ${value}`;
  if (typeof value === 'boolean') return `the truth value ${value}`;
  return 'text';
}

const typeNames: Readonly<Record<string, string>> = {
  string: 'text',
  number: 'a number',
  integer: 'a whole number',
  boolean: 'true or false',
  object: 'a group of keys',
  array: 'a list',
};

/** What a JSON Schema type is called. */
export function typeName(type: unknown): string {
  return typeNames[String(type)] ?? 'another value';
}
