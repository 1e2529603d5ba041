import type { DocumentKind } from '../documents.ts';
import type { DocumentPath } from '../problem.ts';
import type { Draft } from './draft.ts';
import { nearest } from './nearest.ts';
import { objections, type Objection } from './validate.ts';
import { valueWords } from './value-words.ts';
import { placeName } from './words.ts';

/** What a value has against the schema of its kind, in words for people, with a hint where one word is near. */
export function schemaProblems(kind: DocumentKind, value: unknown): Draft[] {
  const found = objections(kind, value).map(objection => ({
    objection,
    path: pathOf(objection.instancePath, value),
  }));
  const byPlace = new Map<string, typeof found>();
  for (const one of found) {
    const list = byPlace.get(one.objection.instancePath);
    if (list === undefined) byPlace.set(one.objection.instancePath, [one]);
    else list.push(one);
  }
  const drafts: Draft[] = [];
  for (const list of byPlace.values()) {
    const path = list[0]?.path ?? [];
    const here = list.map(one => one.objection);
    drafts.push(...keyDrafts(here, path), ...valueDraft(here, path));
  }
  return drafts;
}

/** Keys that are unknown, missing, or malformed: any number at one place. */
function keyDrafts(here: readonly Objection[], path: DocumentPath): Draft[] {
  const drafts: Draft[] = [];
  const meant = new Set<string>();
  const where = placeName(path);
  const inside = where === null ? '' : ` in ${where}`;
  const told = new Set<string>();
  for (const { keyword, params, parentSchema, data } of here) {
    if (keyword === 'additionalProperties') {
      const key = String(params['additionalProperty']);
      const known = Object.keys(parentSchema['properties'] ?? {});
      const present = data as Readonly<Record<string, unknown>>;
      const hint = nearest(
        key,
        known.filter(one => !Object.hasOwn(present, one)),
      );
      if (hint !== null) meant.add(hint);
      drafts.push({
        code: 'unknown-key',
        text: `Unknown key '${key}'${inside}.${hint === null ? '' : ` Did you mean '${hint}'?`}`,
        remedy:
          hint === null
            ? `Keys that may stand here: ${known.join(', ')}.`
            : `Write '${hint}', or remove the key.`,
        where: { kind: 'key', path: [...path, key] },
      });
    } else if (keyword === 'propertyNames') {
      const key = String(params['propertyName']);
      const rule = here.find(
        one => one.propertyName === key && typeof one.parentSchema['description'] === 'string',
      );
      drafts.push({
        code: 'malformed-value',
        text: `'${key}' cannot be a name${inside}.`,
        remedy: describe(rule?.parentSchema) ?? 'Choose another name.',
        where: { kind: 'key', path: [...path, key] },
      });
    }
  }
  for (const { keyword, params, parentSchema } of here) {
    if (keyword !== 'required') continue;
    const key = String(params['missingProperty']);
    // A mistyped key is told once, not as one too many and one too few.
    if (meant.has(key) || told.has(key)) continue;
    told.add(key);
    const property = (
      (parentSchema['properties'] ?? {}) as Record<string, { description?: string } | undefined>
    )[key];
    drafts.push({
      code: 'missing-key',
      text: `The key '${key}' is missing${where === null ? '' : inside}.`,
      remedy:
        property?.description === undefined ? `Add '${key}: …'.` : `Add '${key}: …'. ${property.description}`,
      where: { kind: 'value', path },
    });
  }
  return drafts;
}

/** Which objection to one value is told: the one that the others mostly follow from. */
const rank = ['type', 'false schema', 'anyOf', 'enum', 'format', 'minLength', 'maxLength', 'pattern'];
const aboutKeys = new Set(['additionalProperties', 'required', 'propertyNames', 'if', 'dependentSchemas']);

function valueDraft(here: readonly Objection[], path: DocumentPath): Draft[] {
  const own = here.filter(one => !aboutKeys.has(one.keyword) && one.propertyName === undefined);
  const order = (one: Objection): number =>
    rank.includes(one.keyword) ? rank.indexOf(one.keyword) : rank.length;
  const [first] = own.toSorted((a, b) => order(a) - order(b));
  if (first === undefined) return [];
  const { code, text, remedy } = valueWords(first, path);
  return [{ code, text, remedy, where: { kind: first.keyword === 'false schema' ? 'key' : 'value', path } }];
}

/** The path of a JSON pointer, with indices as numbers where the value has lists. */
export function pathOf(text: string, root: unknown): DocumentPath {
  let value = root;
  return text
    .split('/')
    .slice(1)
    .map(step => step.replaceAll('~1', '/').replaceAll('~0', '~'))
    .map(step => {
      const list = Array.isArray(value);
      value = (value as Readonly<Record<string, unknown>> | null)?.[step];
      return list ? Number(step) : step;
    });
}

function describe(schema: Readonly<Record<string, unknown>> | undefined): string | null {
  const description = schema?.['description'];
  return typeof description === 'string' ? description : null;
}
