import type { DocumentKind, Documents } from '../documents.ts';
import type { DocumentPath } from '../problem.ts';
import { kindProblem } from './kind.ts';
import { parsedValue } from './parsed-value.ts';
import { pathOf } from './schema-problems.ts';
import { objections, type Objection } from './validate.ts';

/** What is left of a document when all that its schema objects to is taken out. */
export interface UsableRest<K extends DocumentKind> {
  readonly value: Documents[K];
  /** Paths, in the document, of what was taken out. */
  readonly lost: readonly DocumentPath[];
  /** The path in the document of a path in the rest: entries of lists move up when others are taken out. */
  original(path: DocumentPath): DocumentPath;
}

/** What stands in for keys that a document of the kind cannot be without. */
const standIns: Partial<Readonly<Record<DocumentKind, Readonly<Record<string, unknown>>>>> = {
  variant: { title: 'untitled', parts: [] },
  registry: { name: 'unnamed' },
  device: { title: 'untitled', purpose: 'not stated' },
};

/** Taking out may leave a group without a key that it needs, which is then taken out as a whole: a level each time. */
const mostRounds = 12;
/** Of a document with more objections than this nothing is used. */
const mostObjections = 2_000;

/**
 * The part of a document that can be looked at although its schema objects to something: unknown keys, values of a wrong
 * form and groups that lack a key are taken out. Everything that it holds stands in the document; that something is not
 * in it means nothing.
 *
 * @returns null where the text cannot be parsed, is of another kind, or wrong as a whole
 */
export function usableRest<K extends DocumentKind>(kind: K, text: string): UsableRest<K> | null {
  const parsed = parsedValue(text).value;
  if (parsed === undefined || kindProblem(kind, parsed) !== null) return null;
  // Aliases share values, and one place of theirs may be taken out alone.
  const value = JSON.parse(JSON.stringify(parsed)) as Record<string, unknown>;
  const indices = new WeakMap<readonly unknown[], number[]>();
  const original = (path: DocumentPath): DocumentPath => originalPath(value, path, indices);
  const lost: DocumentPath[] = [];
  for (let round = 0; round < mostRounds; round++) {
    const found = objections(kind, value);
    if (found.length === 0) return { value: value as unknown as Documents[K], lost, original };
    if (found.length > mostObjections) return null;
    const targets = new Map<string, DocumentPath>();
    for (const objection of found) {
      const path = targetOf(objection, value);
      if (path !== null) targets.set(JSON.stringify(path), path);
      else if (!fillIn(kind, objection, value)) return null;
    }
    lost.push(...[...targets.values()].map(original));
    takeOut(value, [...targets.values()], indices);
  }
  return null;
}

/** What to take out for an objection; null for the root, which cannot be. */
function targetOf(objection: Objection, root: unknown): DocumentPath | null {
  const { keyword, params } = objection;
  const path = pathOf(objection.instancePath, root);
  if (keyword === 'additionalProperties') return [...path, String(params['additionalProperty'])];
  if (keyword === 'propertyNames') return [...path, String(params['propertyName'])];
  if (objection.propertyName !== undefined) return [...path, objection.propertyName];
  return path.length === 0 ? null : path;
}

function fillIn(kind: DocumentKind, { keyword, params }: Objection, root: Record<string, unknown>): boolean {
  const key = String(params['missingProperty']);
  const known = standIns[kind] ?? {};
  if (keyword !== 'required' || !Object.hasOwn(known, key)) return false;
  root[key] = structuredClone(known[key]);
  return true;
}

function takeOut(
  root: unknown,
  targets: readonly DocumentPath[],
  indices: WeakMap<readonly unknown[], number[]>,
): void {
  const fromLists = new Map<unknown[], Set<number>>();
  // All are looked up before any list is shortened.
  for (const path of targets) {
    const parent = at(root, path.slice(0, -1));
    const step = path[path.length - 1];
    if (Array.isArray(parent)) {
      const gone = fromLists.get(parent) ?? new Set();
      fromLists.set(parent, gone.add(Number(step)));
    }
  }
  for (const path of targets) {
    const parent = at(root, path.slice(0, -1));
    if (typeof parent === 'object' && parent !== null && !Array.isArray(parent))
      delete (parent as Record<string, unknown>)[String(path[path.length - 1])];
  }
  for (const [list, gone] of fromLists) {
    const from = indices.get(list) ?? list.map((_, k) => k);
    const kept = list.map((_, k) => k).filter(k => !gone.has(k));
    const [values, origins] = [kept.map(k => list[k]), kept.map(k => from[k])];
    list.splice(0, list.length, ...values);
    indices.set(list, origins);
  }
}

function at(root: unknown, path: DocumentPath): unknown {
  let value = root;
  for (const step of path) value = (value as Readonly<Record<string, unknown>> | null | undefined)?.[step];
  return value;
}

function originalPath(
  root: unknown,
  path: DocumentPath,
  indices: WeakMap<readonly unknown[], number[]>,
): DocumentPath {
  let value = root;
  return path.map(step => {
    const list = Array.isArray(value) ? (value as readonly unknown[]) : null;
    value = (value as Readonly<Record<string, unknown>> | null | undefined)?.[step];
    return list === null ? step : (indices.get(list)?.[Number(step)] ?? step);
  });
}
