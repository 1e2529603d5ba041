import { takeBulk } from './bulk-elements.ts';
import type { GrowingMesh } from './growing-mesh.ts';
import type { XmlReader } from './xml.ts';

/** The list that the XML reader has just opened, if any, and the mesh that it belongs to. */
export interface OpenList {
  readonly kind: 'vertices' | 'triangles';
  readonly mesh: GrowingMesh;
}

/** Hands bytes on to an XML reader, save for long lists of plain elements, which take a short way. */
export interface BulkFeed {
  readonly write: (bytes: Uint8Array) => void;
  readonly end: () => void;
}

const listNames = ['vertices', 'triangles'].map(name => Uint8Array.from(name, c => c.charCodeAt(0)));
/** One byte less than the longest ending looked for. */
const keptBytes = 'triangles>'.length - 1;

/**
 * A feed for one document.
 *
 * @param takeOpened returns the list that the reader opened since it was last asked. The closing `>` of a start tag
 * is handed over by itself: when it opens a list, the next byte is content of that list, with no need to know the
 * reader's state.
 */
export function bulkFeed(xml: XmlReader, takeOpened: () => OpenList | null): BulkFeed {
  let kept: Uint8Array = new Uint8Array(0);
  let list: OpenList | null = null;
  return {
    write(piece) {
      const bytes = joined(kept, piece);
      let at = 0;
      while (at < bytes.length) {
        if (list !== null) {
          const stop = takeBulk(list.kind, list.mesh, bytes, at);
          xml.skipped(bytes, at, stop.at);
          at = stop.at;
          if (stop.open) break;
          list = null;
        }
        const end = endOfName(bytes, at);
        if (end < 0) {
          // A name may go on in the next piece.
          const safe = Math.max(at, bytes.length - keptBytes);
          xml.write(bytes.subarray(at, safe));
          at = safe;
          break;
        }
        xml.write(bytes.subarray(at, end));
        takeOpened();
        xml.write(bytes.subarray(end, end + 1));
        list = takeOpened();
        at = end + 1;
      }
      kept = bytes.slice(at);
    },
    end() {
      xml.write(kept);
      xml.end();
    },
  };
}

/** The place of the next `>` that stands right behind the name of a list; −1 when there is none. */
function endOfName(bytes: Uint8Array, start: number): number {
  for (let at = bytes.indexOf(0x3e, start); at >= 0; at = bytes.indexOf(0x3e, at + 1)) {
    if (listNames.some(name => endsWith(bytes, start, at, name))) return at;
  }
  return -1;
}

function endsWith(bytes: Uint8Array, start: number, end: number, name: Uint8Array): boolean {
  if (end - start < name.length) return false;
  for (let i = 0; i < name.length; i++) if (bytes[end - name.length + i] !== name[i]) return false;
  return true;
}

function joined(a: Uint8Array, b: Uint8Array): Uint8Array {
  if (a.length === 0) return b;
  const both = new Uint8Array(a.length + b.length);
  both.set(a);
  both.set(b, a.length);
  return both;
}
