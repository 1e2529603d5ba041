import type { CommitInfo, Person } from './types.ts';

/** A commit as its object says it. */
export interface CommitObject extends CommitInfo {
  readonly tree: string;
  /** Empty for the first commit. Of a merge, the branch that was merged into comes first. */
  readonly parents: readonly string[];
}

/**
 * Reads a commit object: header lines, an empty line, the message ("Git Objects", the git book, chapter 10.2).
 * Texts are decoded by the commit's own `encoding`, else as UTF-8; what is no text of it becomes U+FFFD.
 *
 * @returns null when the bytes are no commit
 */
export function parseCommit(id: string, bytes: Uint8Array): CommitObject | null {
  const end = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length).indexOf('\n\n');
  const head = Buffer.from(bytes.subarray(0, end < 0 ? bytes.length : end)).toString('latin1');
  const decode = decoder(/\nencoding ([!-~]{1,40})/.exec(head)?.[1] ?? 'utf-8');
  const lines = decode(bytes.subarray(0, end < 0 ? bytes.length : end)).split('\n');
  const message = end < 0 ? '' : decode(bytes.subarray(end + 2));
  const value = (key: string): string | null =>
    lines.find(line => line.startsWith(`${key} `))?.slice(key.length + 1) ?? null;
  const tree = value('tree');
  const author = /^(.*?) ?<([^<>\n]*)> (-?[0-9]{1,15}) ([+-][0-9]{4})$/.exec(value('author') ?? '');
  if (tree === null || !isId(tree) || author === null) return null;
  const parents = lines.filter(line => line.startsWith('parent ')).map(line => line.slice('parent '.length));
  if (!parents.every(isId)) return null;
  return {
    id,
    tree,
    parents,
    date: localDate(Number(author[3]), author[4]),
    author: person(author[1], author[2]),
    others: coauthors(message),
    subject: oneLine(message.trimStart().split('\n')[0], 200),
  };
}

function isId(text: string): boolean {
  return /^([0-9a-f]{40}|[0-9a-f]{64})$/.test(text);
}

function decoder(encoding: string): (bytes: Uint8Array) => string {
  try {
    const known = new TextDecoder(encoding);
    return bytes => known.decode(bytes);
  } catch {
    const utf8 = new TextDecoder();
    return bytes => utf8.decode(bytes);
  }
}

/** The calendar day where the author's clock stood. Days out of the calendar's four-digit years are the nearest in it. */
function localDate(seconds: number, zone: string): string {
  const minutes = Number(zone.slice(1, 3)) * 60 + Number(zone.slice(3, 5));
  const local = seconds + (zone.startsWith('-') ? -60 : 60) * minutes;
  const bounded = Math.min(Math.max(local, firstSecond), lastSecond);
  return new Date(bounded * 1000).toISOString().slice(0, 10);
}

const firstSecond = Date.UTC(1970, 0, 1) / 1000;
const lastSecond = Date.UTC(9999, 11, 31) / 1000;

/** Trailers of the message's last paragraph, as "git interpret-trailers" writes them. */
function coauthors(message: string): Person[] {
  const last =
    message
      .trimEnd()
      .split(/\n[ \t]*\n/)
      .at(-1) ?? '';
  return last.split('\n').flatMap(line => {
    const found = /^co-authored-by: (.*?) ?<([^<>]*)>\s*$/i.exec(line);
    return found === null ? [] : [person(found[1], found[2])];
  });
}

function person(name: string, contact: string): Person {
  const [given, reach] = [oneLine(name, 200), oneLine(contact, 200)];
  return { name: given === '' ? 'unknown' : given, contact: reach === '' ? null : reach };
}

/** A stranger's text on one line: no controls, no marks that reorder text, no more characters than fit. */
export function oneLine(text: string, most: number): string {
  const line = text
    .replace(/[\p{Cc}\p{Zl}\p{Zp}]+/gu, ' ')
    .replace(/[\p{Cf}\p{Cs}\p{Co}]/gu, '')
    .trim();
  return [...line].length <= most
    ? line
    : `${[...line]
        .slice(0, most - 1)
        .join('')
        .trimEnd()}…`;
}
