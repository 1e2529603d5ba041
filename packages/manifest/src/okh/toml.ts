/** What a TOML document of ours can hold: tables of values, and arrays of tables. */
export interface TomlTable {
  readonly [key: string]: TomlValue | undefined;
}
export type TomlValue = string | number | boolean | readonly string[] | TomlTable | readonly TomlTable[];

/**
 * TOML 1.0 of a table: simple values first, then sub-tables, then arrays of tables, each under its own header. Keys
 * without a value, empty lists and empty tables are left out.
 *
 * @throws RangeError for a number that is not finite: TOML knows such, readers of manifests do not
 */
export function tomlText(table: TomlTable): string {
  return `${block(table, []).join('\n').trim()}\n`;
}

/** A basic string of TOML 1.0: quotes, backslashes and all control characters escaped; half characters replaced. */
export function tomlString(text: string): string {
  const escaped = text
    .replace(/\p{Surrogate}/gu, '\uFFFD')
    .replace(
      /["\\\u0000-\u001f\u007f]/g,
      sign => short[sign] ?? `\\u${(sign.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}`,
    );
  return `"${escaped}"`;
}

const short: Readonly<Record<string, string>> = {
  '"': '\\"',
  '\\': '\\\\',
  '\b': '\\b',
  '\t': '\\t',
  '\n': '\\n',
  '\f': '\\f',
  '\r': '\\r',
};

function block(table: TomlTable, path: readonly string[]): string[] {
  const lines: string[] = [];
  const tables: string[] = [];
  for (const [key, value] of Object.entries(table)) {
    if (value === undefined) continue;
    const at = [...path, key];
    if (typeof value !== 'object') lines.push(`${tomlKey(key)} = ${simple(value)}`);
    else if (isStrings(value)) {
      if (value.length > 0) lines.push(`${tomlKey(key)} = [${value.map(tomlString).join(', ')}]`);
    } else if (isTables(value))
      for (const one of value) tables.push('', `[[${header(at)}]]`, ...block(one, at));
    else if (Object.keys(value).length > 0) tables.push('', `[${header(at)}]`, ...block(value, at));
  }
  return [...lines, ...tables];
}

function isStrings(value: object): value is readonly string[] {
  return Array.isArray(value) && value.every(one => typeof one === 'string');
}

function isTables(value: object): value is readonly TomlTable[] {
  return Array.isArray(value);
}

function simple(value: string | number | boolean): string {
  if (typeof value === 'string') return tomlString(value);
  if (typeof value === 'number' && !Number.isFinite(value))
    throw new RangeError(`${value} is no number for a manifest`);
  return String(value);
}

function tomlKey(key: string): string {
  return /^[A-Za-z0-9_-]+$/.test(key) ? key : tomlString(key);
}

function header(path: readonly string[]): string {
  return path.map(tomlKey).join('.');
}
