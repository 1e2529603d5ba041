import { clean } from '../terminal/words.ts';

const entities: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/**
 * A stranger's text for XML or HTML, as content or as a quoted attribute. Characters that XML 1.0 (section 2.2) does not
 * allow are shown as escapes, as are those that cannot be seen.
 */
export function xml(text: string): string {
  const shown = clean(text).replace(/[\ufffe\uffff]/g, c => `\\u{${c.charCodeAt(0).toString(16)}}`);
  return escapeMarkup(shown);
}

/** What would begin or end markup, or a quoted attribute, as an entity. */
export function escapeMarkup(text: string): string {
  return text.replace(/[&<>"']/g, c => entities[c] ?? c);
}

export type Attributes = Readonly<Record<string, string | number | undefined>>;

/** An element; `content` is markup already. Numbers are rounded to tenths, so that a drawing is the same everywhere. */
export function element(name: string, attributes: Attributes, content?: string): string {
  const all = Object.entries(attributes)
    .filter(([, value]) => value !== undefined)
    .map(([key, value]) => ` ${key}="${typeof value === 'number' ? coordinate(value) : xml(String(value))}"`)
    .join('');
  return content === undefined ? `<${name}${all}/>` : `<${name}${all}>${content}</${name}>`;
}

export function coordinate(value: number): string {
  const text = (Math.round(value * 10) / 10).toString();
  return text === '-0' ? '0' : text;
}
