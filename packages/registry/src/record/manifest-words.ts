import type { Author, Part, VariantDocument } from '@kinprint/manifest';

/**
 * What changed in a manifest, a line each; the meshes' shapes and the revisions left aside.
 *
 * Short values are quoted, long texts only said to be reworded.
 */
export function manifestWords(before: VariantDocument, after: VariantDocument): string[] {
  return [
    ...scalar('title', before.title, after.title),
    ...scalar('license', before.license, after.license),
    ...reworded('summary', before.summary, after.summary),
    ...named('authors', authorNames(before.authors), authorNames(after.authors)),
    ...other('authors', 'roles or contacts changed', before, after, authorNames),
    ...listed('derivations', before.derivations ?? [], after.derivations ?? [], item => item.from),
    ...partWords(before.parts, after.parts),
    ...listed('hardware', before.hardware ?? [], after.hardware ?? [], item => item.id),
    ...reworded('assembly', before.assembly, after.assembly),
    ...reworded('fit', before.fit, after.fit),
    ...reworded('cautions', before.cautions, after.cautions),
  ];
}

function partWords(before: readonly Part[], after: readonly Part[]): string[] {
  const old = new Map(before.map(part => [part.id, part]));
  return after.flatMap(part => {
    const was = old.get(part.id);
    if (was === undefined) return [];
    return [
      ...scalar(`${part.id}: quantity`, was.quantity ?? 1, part.quantity ?? 1),
      ...scalar(`${part.id}: material`, was.material, part.material),
      ...scalar(`${part.id}: hand`, was.hand, part.hand),
      ...scalar(`${part.id}: unit`, was.unit, part.unit),
      ...scalar(`${part.id}: license`, was.license, part.license),
      ...settings(part.id, was.print ?? {}, part.print ?? {}),
      ...listed(`${part.id}: interfaces`, was.interfaces ?? [], part.interfaces ?? [], item => item.id),
      ...named(`${part.id}: authors`, authorNames(was.authors), authorNames(part.authors)),
    ];
  });
}

function settings(id: string, before: object, after: object): string[] {
  const old = new Map(Object.entries(before));
  const now = new Map(Object.entries(after));
  return [...new Set([...old.keys(), ...now.keys()])].flatMap(key =>
    scalar(
      `${id}: print ${key.replace(/_(mm|percent)$/, '').replaceAll('_', ' ')}`,
      old.get(key),
      now.get(key),
    ),
  );
}

function scalar(what: string, before: unknown, after: unknown): string[] {
  if (before === after) return [];
  if (before === undefined) return [`${what}: ${text(after)}`];
  if (after === undefined) return [`${what}: no longer stated (was ${text(before)})`];
  return [`${what}: ${text(before)} → ${text(after)}`];
}

function text(value: unknown): string {
  return typeof value === 'string' || typeof value === 'number' ? String(value) : JSON.stringify(value);
}

function reworded(what: string, before: unknown, after: unknown): string[] {
  if (same(before, after)) return [];
  return [`${what}: ${before === undefined ? 'added' : after === undefined ? 'removed' : 'changed'}`];
}

/** Items that have a key: which came, went, changed. */
function listed<T>(
  what: string,
  before: readonly T[],
  after: readonly T[],
  key: (item: T) => string,
): string[] {
  const old = new Map(before.map(item => [key(item), item]));
  const now = new Map(after.map(item => [key(item), item]));
  const changed = [...now].filter(([name, item]) => old.has(name) && !same(old.get(name), item));
  return [
    ...named(what, [...old.keys()], [...now.keys()]),
    ...(changed.length > 0 ? [`${what}: ${changed.map(([name]) => name).join(', ')} changed`] : []),
  ];
}

function named(what: string, before: readonly string[], after: readonly string[]): string[] {
  const came = after.filter(name => !before.includes(name));
  const went = before.filter(name => !after.includes(name));
  return [
    ...(came.length > 0 ? [`${what}: ${came.join(', ')} added`] : []),
    ...(went.length > 0 ? [`${what}: ${went.join(', ')} removed`] : []),
  ];
}

function other(
  what: string,
  change: string,
  before: VariantDocument,
  after: VariantDocument,
  names: (authors: readonly Author[] | undefined) => readonly string[],
): string[] {
  const sameNames = same(names(before.authors), names(after.authors));
  return sameNames && !same(before.authors, after.authors) ? [`${what}: ${change}`] : [];
}

function authorNames(authors: readonly Author[] | undefined): string[] {
  return (authors ?? []).map(author => author.name);
}

/** Whether two plain values are the same, keys in any order. */
function same(a: unknown, b: unknown): boolean {
  if (a === b) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  if (Array.isArray(a) !== Array.isArray(b)) return false;
  const [left, right] = [new Map(Object.entries(a)), new Map(Object.entries(b))];
  return (
    left.size === right.size &&
    [...left].every(([key, value]) => right.has(key) && same(value, right.get(key)))
  );
}
