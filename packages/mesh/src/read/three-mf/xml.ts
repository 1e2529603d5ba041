import { DecodeUTF8 } from 'fflate';
import { SaxesParser, type SaxesTagNS } from 'saxes';
import { InputError } from '../../error.ts';

/** An element as it opens. */
export interface XmlElement {
  /** Name without its prefix. */
  readonly local: string;
  /** Namespace, empty for none. */
  readonly uri: string;
  /** The value of an attribute without a namespace, or of one in `uri`. */
  readonly attribute: (local: string, uri?: string) => string | undefined;
  /** The namespace of a prefix that is in force here. */
  readonly namespaceOf: (prefix: string) => string | undefined;
  /** How many elements it is inside of. */
  readonly depth: number;
}

export interface XmlHandler {
  readonly open: (element: XmlElement) => void;
  readonly close: (local: string, uri: string, depth: number) => void;
}

/** An XML document being read, piece by piece. */
export interface XmlReader {
  readonly write: (bytes: Uint8Array) => void;
  /** Tells that the bytes from `start` to `end` were dealt with elsewhere; for the counting of lines only. */
  readonly skipped: (bytes: Uint8Array, start: number, end: number) => void;
  readonly end: () => void;
  /** The line reached, from 1. */
  readonly line: () => number;
  /** An error at the place reached. */
  readonly error: (code: string, what: string, remedy?: string) => InputError;
}

/** Common practice, no source: far above any model part, low enough to hold. */
const limits = { depth: 64, silentBytes: 1 << 22 };

/**
 * Reads XML in UTF-8 with namespaces. Document types are refused (3MF Core Specification 1.4.0, 2.3.2), and so are
 * nesting beyond 64 and 4 MiB without a single tag.
 *
 * @param part name for messages.
 * @throws {InputError} `xml-damaged`, `xml-doctype`, `xml-limit` with line and column, from `write` and `end`.
 */
export function readXml(part: string, handler: XmlHandler): XmlReader {
  const parser = new SaxesParser({ xmlns: true, position: true });
  const error = (code: string, what: string, remedy = 'Export the file again.') =>
    new InputError(code, `${part}: ${what}`, remedy, {
      line: line(),
      // Columns are not counted in what was skipped.
      ...(line() === lineOfSkip ? {} : { column: parser.column }),
    });
  const line = () => parser.line + skippedLines;
  let skippedLines = 0;
  let lineOfSkip = 0;
  let depth = 0;
  let silent = 0;
  parser.on('error', problem => {
    // The message begins with the place, which stands beside it already.
    throw error('xml-damaged', problem.message.replace(/^\S*?:?\d+:\d+: /, ''));
  });
  parser.on('doctype', () => {
    throw error(
      'xml-doctype',
      'a document type declaration is not allowed',
      'Do not trust this file; ask for another.',
    );
  });
  parser.on('opentag', tag => {
    silent = 0;
    if (++depth > limits.depth)
      throw error('xml-limit', `elements are nested more than ${limits.depth} deep`);
    handler.open(elementOf(parser, tag, depth - 1));
  });
  parser.on('closetag', tag => {
    silent = 0;
    depth--;
    handler.close(tag.local, tag.uri, depth);
  });
  const decoder = new DecodeUTF8((text, final) => {
    if (text !== '') parser.write(text);
    if (final) parser.close();
  });
  return {
    write(bytes) {
      silent += bytes.length;
      if (silent > limits.silentBytes + bytes.length) throw error('xml-limit', 'a tag or text has no end');
      decoder.push(bytes, false);
    },
    skipped(bytes, start, end) {
      if (end === start) return;
      // Only this range: a search that runs on to the end of the bytes each time is quadratic in all.
      for (let at = start; at < end; at++) if (bytes[at] === 0x0a) skippedLines++;
      lineOfSkip = line();
    },
    end: () => decoder.push(new Uint8Array(0), true),
    line,
    error,
  };
}

function elementOf(
  parser: SaxesParser<{ xmlns: true; position: true }>,
  tag: SaxesTagNS,
  depth: number,
): XmlElement {
  return {
    local: tag.local,
    uri: tag.uri,
    depth,
    attribute(local, uri = '') {
      if (uri === '') {
        const plain = Object.hasOwn(tag.attributes, local) ? tag.attributes[local] : undefined;
        return plain?.uri === '' ? plain.value : undefined;
      }
      return Object.values(tag.attributes).find(
        candidate => candidate.local === local && candidate.uri === uri,
      )?.value;
    },
    namespaceOf: prefix => parser.resolve(prefix),
  };
}
