import { isNode, Lexer, parseDocument, type Document } from 'yaml';
import { ManifestError } from '../fault.ts';
import { parseOptions } from '../read/parse-text.ts';
import { spliced } from './splice.ts';
import { withEdit, type Edit } from './value-at.ts';

/**
 * Changes values in the text of a document, one edit after the other. Comments and the order of keys stay; where it is
 * simply possible so does every other character, else the document is written anew with its comments.
 * The outcome is parsed again and compared, so that it says exactly what was asked for. Line ends and a byte-order
 * mark stay as they are.
 *
 * @param edits each with the path of a value; undefined removes it, an index one past the end appends
 * @throws ManifestError `edit-unreadable` when the text is no YAML, `edit-no-such-place` when a path leads nowhere or
 *   through an alias
 */
export function editDocument(text: string, edits: readonly Edit[]): string {
  const windows = text.includes('\r\n');
  const mark = text.startsWith('\uFEFF') ? '\uFEFF' : '';
  let current = text.slice(mark.length).replaceAll('\r\n', '\n');
  for (const edit of edits) current = edited(current, edit);
  return mark + (windows ? current.replaceAll('\n', '\r\n') : current);
}

function edited(text: string, edit: Edit): string {
  const document = parsed(text);
  const before = document.toJS() as unknown;
  const wanted = JSON.stringify(withEdit(before, edit));
  if (JSON.stringify(before) === wanted) return text;
  const says = (candidate: string): boolean => {
    const again = parseDocument(candidate, parseOptions);
    return again.errors.length === 0 && JSON.stringify(again.toJS()) === wanted;
  };
  for (const style of ['blocks', 'quotes'] as const) {
    // A block of text would take up a comment that stands below it.
    const short = spliced(text, document, edit, style);
    if (short !== null && says(short)) return short;
  }
  const whole = rewritten(document, edit);
  if (
    whole !== null &&
    says(whole) &&
    comments(whole) >= comments(text) - commentsWithin(text, document, edit)
  )
    return whole;
  throw new ManifestError(
    'edit-no-such-place',
    `'${edit.path.join('.')}' cannot be changed without changing something else.`,
    'Write out aliases (*) there, or edit the file by hand.',
  );
}

function parsed(text: string): Document {
  const document = parseDocument(text, parseOptions);
  const error = document.errors[0];
  if (error !== undefined)
    throw new ManifestError(
      'edit-unreadable',
      'The document has mistakes in its YAML.',
      'Settle what reading it tells first.',
    );
  return document;
}

function rewritten(document: Document, { path, value }: Edit): string | null {
  try {
    if (value === undefined) document.deleteIn(path);
    else {
      const old = document.getIn(path, true);
      const node = document.createNode(value, { aliasDuplicateObjects: false });
      if (isNode(old)) {
        node.commentBefore = old.commentBefore ?? null;
        node.comment = old.comment ?? null;
      }
      document.setIn(path, node);
    }
    return document.toString({ lineWidth: 0 });
  } catch {
    // The library refuses to go through an alias or a simple value.
    return null;
  }
}

function comments(text: string): number {
  let count = 0;
  for (const token of new Lexer().lex(text)) if (token.startsWith('#')) count++;
  return count;
}

/** Comments within what an edit replaces or removes; they go with it. */
function commentsWithin(text: string, document: Document, { path }: Edit): number {
  const range = (document.getIn(path, true) as { range?: readonly number[] | null } | undefined)?.range;
  return range ? comments(text.slice(range[0], range[2])) : 0;
}
