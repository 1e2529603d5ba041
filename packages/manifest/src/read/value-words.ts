import type { DocumentPath, ProblemCode } from '../problem.ts';
import { quoted } from './draft.ts';
import { nearest } from './nearest.ts';
import { roleHint } from './role-hint.ts';
import type { Objection } from './validate.ts';
import { kindOf, placeName, typeName } from './words.ts';

interface Words {
  readonly code: ProblemCode;
  readonly text: string;
  readonly remedy: string;
}

/** What is wrong with one value, by the keyword of the schema that it breaks. */
export function valueWords(objection: Objection, path: DocumentPath): Words {
  const { keyword, params, parentSchema, schema, data } = objection;
  const name = placeName(path) ?? 'the document';
  const subject = `${name.charAt(0).toUpperCase()}${name.slice(1)}`;
  const description = typeof parentSchema['description'] === 'string' ? parentSchema['description'] : null;
  const range = (text: string): Words => ({
    code: 'out-of-range',
    text,
    remedy: description ?? 'Change the value.',
  });
  const than = (comparison: unknown): string =>
    ({ '<=': 'at most', '>=': 'at least', '>': 'more than', '<': 'less than' })[String(comparison)] ??
    'other than';

  switch (keyword) {
    case 'type':
      return typeWords(subject, schema, data, parentSchema);
    case 'enum':
      return oneOf(subject, data, schema as readonly unknown[]);
    case 'anyOf':
      return roleWords(subject, data, schema);
    case 'format':
      return {
        code: 'malformed-value',
        text: `${quoted(String(data))} is no date of the calendar.`,
        remedy: 'Write year, month and day, e.g. 2026-03-14.',
      };
    case 'pattern':
      return {
        code: 'malformed-value',
        text: `${quoted(String(data))} does not have the form that ${name} needs.`,
        remedy: description ?? 'See the schema.',
      };
    case 'minLength':
      return {
        code: 'malformed-value',
        text: `${subject} is empty.`,
        remedy: 'Give a value, or remove the key.',
      };
    case 'maxLength':
      return range(`${subject} is longer than ${String(params['limit'])} characters.`);
    case 'minimum':
    case 'maximum':
    case 'exclusiveMinimum':
    case 'exclusiveMaximum':
      return range(
        `${subject} must be ${than(params['comparison'])} ${String(params['limit'])}; it is ${String(data)}.`,
      );
    case 'minItems':
    case 'maxItems': {
      const few = keyword === 'minItems' ? 'at least' : 'at most';
      return range(
        `${subject} must have ${few} ${String(params['limit'])} entries; it has ${(data as unknown[]).length}.`,
      );
    }
    case 'maxProperties':
      return range(`${subject} must have at most ${String(params['limit'])} keys.`);
    case 'uniqueItems':
      return {
        code: 'repeated-value',
        text: `${subject} has the same entry twice (${Number(params['j']) + 1} and ${Number(params['i']) + 1}).`,
        remedy: 'Keep one of them.',
      };
    case 'false schema':
      return {
        code: 'conflicting-key',
        text: `${subject} cannot stand beside 'letters'.`,
        remedy: "Give either 'letters', or 'from' and 'until'.",
      };
    default:
      return {
        code: 'malformed-value',
        text: `${subject} does not fit the schema.`,
        remedy: description ?? 'See the schema.',
      };
  }
}

function typeWords(
  subject: string,
  type: unknown,
  data: unknown,
  parentSchema: Objection['parentSchema'],
): Words {
  if (data === null || data === undefined)
    return {
      code: 'wrong-type',
      text: `${subject} has no value; it must be ${typeName(type)}.`,
      remedy: 'Give a value, or remove the key.',
    };
  const text = `${subject} must be ${typeName(type)}; it is ${kindOf(data)}.`;
  const simple = typeof data === 'number' || typeof data === 'boolean';
  if (type === 'string' && simple)
    return { code: 'wrong-type', text, remedy: `Put it in quotes: '${String(data)}'.` };
  if (type === 'array' && typeof data !== 'object')
    return {
      code: 'wrong-type',
      text,
      remedy: "Write each entry on a line of its own that begins with '- '.",
    };
  if ((type === 'number' || type === 'integer') && typeof data === 'string')
    return {
      code: 'wrong-type',
      text: `${subject} must be ${typeName(type)}; it is ${quoted(data)}.`,
      remedy:
        type === 'integer'
          ? 'Write the number alone, in digits, without a unit.'
          : 'Write the number alone, without a unit, with a point for decimals.',
    };
  const description = typeof parentSchema['description'] === 'string' ? parentSchema['description'] : null;
  const remedy = keysOf(parentSchema) ?? description ?? `Write ${typeName(type)}.`;
  return { code: 'wrong-type', text, remedy };
}

/** Which keys a group has, those first that it must have; null for what is no group of known keys. */
function keysOf(schema: Objection['parentSchema']): string | null {
  if (schema['type'] !== 'object') return null;
  const known = Object.keys(schema['properties'] ?? {});
  if (known.length === 0) return null;
  const needed = (schema['required'] ?? []) as readonly string[];
  const others = known.filter(key => !needed.includes(key));
  if (needed.length === 0) return `Write 'key: value'; the keys are ${known.join(', ')}.`;
  const rest = others.length === 0 ? '' : ` Optional: ${others.join(', ')}.`;
  return `Write 'key: value' for ${needed.join(', ')}.${rest}`;
}

function oneOf(subject: string, data: unknown, values: readonly unknown[]): Words {
  const known = values.map(String);
  const given = typeof data === 'string' ? quoted(data) : kindOf(data);
  const hint = typeof data === 'string' ? nearest(data, known) : null;
  return {
    code: 'unknown-value',
    text: `${subject} cannot be ${given}.${hint === null ? '' : ` Did you mean '${hint}'?`}`,
    remedy: `Write one of: ${known.join(', ')}.`,
  };
}

/** The one choice in the schemas that has two forms: a contributor role of the list, or an own one. */
function roleWords(subject: string, data: unknown, schema: unknown): Words {
  const listed =
    (schema as readonly { enum?: readonly string[] }[]).find(one => one.enum !== undefined)?.enum ?? [];
  const hint = typeof data === 'string' ? roleHint(data, listed) : null;
  return {
    code: 'unknown-value',
    text: `${subject}: ${quoted(String(data))} is no contributor role.${hint === null ? '' : ` Did you mean '${hint}'?`}`,
    remedy: `Write one of: ${listed.join(', ')}; or an own one that begins with x-.`,
  };
}
