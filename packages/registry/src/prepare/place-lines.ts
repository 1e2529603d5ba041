import { editDocument, ManifestError, readDocument, type Edit } from '@kinprint/manifest';

/** Lines to put into a text. */
export interface PlacedLines {
  /** From 1: what stands there now moves below. */
  readonly line: number;
  /** How many lines, from that one on, they stand in for. */
  readonly replaces: number;
  readonly lines: readonly string[];
}

/** Top-level keys in the order that people read them in. */
const order = ['kinprint', 'title', 'summary', 'license', 'authors', 'derivations', 'parts'];

/**
 * Where an edit of a variant's manifest puts which lines: by the editor that keeps comments, and for a new key of the whole
 * at the place where people look for it. null where the text cannot be edited so.
 */
export function placeLines(text: string, edits: readonly Edit[]): PlacedLines | null {
  let edited: string;
  try {
    edited = editDocument(text, edits);
  } catch (error) {
    if (error instanceof ManifestError) return null;
    throw error;
  }
  const placed = difference(linesOf(text), linesOf(edited));
  const short = { ...placed, lines: compact(placed.lines) };
  const [first] = edits;
  const wanted = meaning(edited);
  const high = first?.path.length === 1 && placed.replaces === 0 ? higher(text, String(first.path[0])) : null;
  const candidates = [high === null ? null : { ...short, line: high }, short, placed];
  return candidates.find(each => each !== null && meaning(withLines(text, each)) === wanted) ?? null;
}

/**
 * The text with an edit done, its lines where `placeLines` puts them.
 *
 * @throws ManifestError where the text cannot be edited so
 */
export function editInPlace(text: string, edits: readonly Edit[]): string {
  const placed = placeLines(text, edits);
  return placed === null ? editDocument(text, edits) : withLines(text, placed);
}

/** The text with the lines put in. */
export function withLines(text: string, { line, replaces, lines }: PlacedLines): string {
  const all = linesOf(text);
  all.splice(line - 1, replaces, ...lines);
  return all.join(text.includes('\r\n') ? '\r\n' : '\n');
}

function linesOf(text: string): string[] {
  return text.split(/\r?\n/);
}

function difference(before: readonly string[], after: readonly string[]): PlacedLines {
  let head = 0;
  while (head < before.length && head < after.length && before[head] === after[head]) head++;
  let tail = 0;
  const most = Math.min(before.length, after.length) - head;
  while (tail < most && before.at(-1 - tail) === after.at(-1 - tail)) tail++;
  return {
    line: head + 1,
    replaces: before.length - head - tail,
    lines: after.slice(head, after.length - tail),
  };
}

/** Above the next key in the usual order, and above what is said about that one. */
function higher(text: string, key: string): number | null {
  const at = order.indexOf(key);
  if (at < 0) return null;
  const lines = linesOf(text);
  let next = lines.findIndex(line => order.slice(at + 1).some(each => line.startsWith(`${each}:`)));
  if (next < 0) return null;
  while (next > 0 && /^(#|\s*$)/.test(lines[next - 1])) next--;
  return next + 1;
}

/** Short lists of numbers on one line. */
function compact(lines: readonly string[]): string[] {
  const number = /^\s*- (-?[0-9.e+-]+)$/;
  const out: string[] = [];
  for (let k = 0; k < lines.length; k++) {
    const items: string[] = [];
    while (/:$/.test(lines[k]) && number.test(lines[k + 1 + items.length] ?? ''))
      items.push(number.exec(lines[k + 1 + items.length])![1]);
    out.push(items.length === 0 ? lines[k] : `${lines[k]} [${items.join(', ')}]`);
    k += items.length;
  }
  return out;
}

/** What a manifest says, for comparing; keys in any order. null where it says nothing valid. */
function meaning(text: string): string | null {
  const { value } = readDocument('variant', text, 'variant.yaml');
  return value === null ? null : JSON.stringify(value, sortedKeys);
}

function sortedKeys(_: string, value: unknown): unknown {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return value;
  return Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)));
}
