import type { ObjectFormat } from './objects.ts';

/** One line of a tree object. */
export interface TreeItem {
  readonly kind: 'file' | 'folder' | 'link' | 'submodule';
  /** As bytes: git knows no encoding. */
  readonly name: Uint8Array;
  readonly id: string;
}

/**
 * Reads a tree object: `mode name\0id` again and again, the id in binary ("Git Objects", the git book, chapter 10.2).
 *
 * @returns null when the bytes are no tree: cut short, an unknown mode, an empty name or one with a slash, or the
 *   same name twice
 */
export function parseTree(bytes: Uint8Array, format: ObjectFormat): TreeItem[] | null {
  const idLength = format === 'sha1' ? 20 : 32;
  const items: TreeItem[] = [];
  const names = new Set<string>();
  for (let at = 0; at < bytes.length;) {
    const space = bytes.indexOf(0x20, at);
    const end = space < 0 ? -1 : bytes.indexOf(0, space);
    if (end < 0 || end + 1 + idLength > bytes.length) return null;
    const kind = kinds.get(latin1(bytes.subarray(at, space)).replace(/^0+/, ''));
    const name = bytes.subarray(space + 1, end);
    const key = latin1(name);
    if (kind === undefined || name.length === 0 || name.includes(0x2f) || names.has(key)) return null;
    names.add(key);
    at = end + 1 + idLength;
    items.push({ kind, name, id: Buffer.from(bytes.subarray(end + 1, at)).toString('hex') });
  }
  return items;
}

/** 100664 was written by early versions of git and is still in histories. */
const kinds: ReadonlyMap<string, TreeItem['kind']> = new Map([
  ['100644', 'file'],
  ['100755', 'file'],
  ['100664', 'file'],
  ['40000', 'folder'],
  ['120000', 'link'],
  ['160000', 'submodule'],
]);

function latin1(bytes: Uint8Array): string {
  return Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length).toString('latin1');
}
