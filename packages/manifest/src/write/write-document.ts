import { Document, isCollection, isMap, isScalar, isSeq, type Node, type Pair } from 'yaml';
import type { DocumentKind, Documents } from '../documents.ts';
import { ManifestError } from '../fault.ts';
import { readDocument } from '../read/read-document.ts';

/** How many folders a document of each kind lies below the registry's root. */
const depth: Readonly<Record<DocumentKind, number>> = {
  registry: 0,
  device: 2,
  variant: 3,
  advisory: 1,
  evidence: 4,
  signoff: 4,
};

/** The line that gives editors completion: the schema of the kind, in the registry's `schemas/`. */
export function schemaLine(kind: DocumentKind): string {
  return `# yaml-language-server: $schema=${'../'.repeat(depth[kind])}schemas/${kind}.schema.json`;
}

/** Remarks for people, by the JSON pointer of what they stand above; '' is the head of the document. */
export type DocumentComments = Readonly<Record<string, string>>;

/**
 * A new document as people would write it: the schema's line first, keys in the order given, a blank line before each
 * group, short groups of numbers on one line, long text folded.
 *
 * @throws ManifestError `document-invalid` when the value does not fit its schema
 */
export function writeDocument<K extends DocumentKind>(
  kind: K,
  value: Documents[K],
  comments: DocumentComments = {},
): string {
  const document = new Document(value, { version: '1.2', schema: 'core', aliasDuplicateObjects: false });
  layOut(document.contents);
  for (const [pointer, remark] of Object.entries(comments)) {
    if (pointer !== '') comment(document, pointer, remark);
  }
  const head = comments[''];
  const top = head === undefined ? '' : `${commentLines(head)}\n`;
  const text = `${schemaLine(kind)}\n${top}${document.toString({ lineWidth: 100, commentString: hashed })}`;
  const problem = readDocument(kind, text, `${kind}.yaml`).problems[0];
  if (problem !== undefined) throw new ManifestError('document-invalid', problem.text, problem.remedy);
  return text;
}

function hashed(remark: string): string {
  return commentLines(remark);
}

function commentLines(remark: string): string {
  return remark
    .split(/\r?\n|\r/)
    .map(line => `# ${line}`.trimEnd())
    .join('\n');
}

/** Blank lines before groups of the root; lists of numbers and groups of simple values in one line. */
function layOut(root: Node | null): void {
  if (!isMap(root)) return;
  root.items.forEach((pair, i) => {
    if (i > 0 && isCollection(pair.value) && pair.value.items.length > 0)
      (pair.key as Node).spaceBefore = true;
  });
  flatten(root);
}

function flatten(node: unknown): void {
  if (isSeq(node)) {
    if (node.items.every(item => isScalar(item) && typeof item.value === 'number')) node.flow = true;
    else node.items.forEach(flatten);
  } else if (isMap(node)) {
    for (const pair of node.items) {
      const { value } = pair;
      if (isMap(value) && value.items.length <= 2 && value.items.every(isShort)) value.flow = true;
      else flatten(value);
    }
  }
}

function isShort(pair: Pair): boolean {
  const { value } = pair;
  if (isSeq(value)) return value.items.every(item => isScalar(item) && typeof item.value === 'number');
  return isScalar(value) && String(value.value).length <= 20;
}

function comment(document: Document, pointer: string, remark: string): void {
  const path = pointer
    .split('/')
    .slice(1)
    .map(step => step.replaceAll('~1', '/').replaceAll('~0', '~'));
  const parent = document.getIn(path.slice(0, -1), true);
  const step = path.at(-1);
  const pair = isMap(parent)
    ? parent.items.find(item => isScalar(item.key) && item.key.value === step)
    : undefined;
  const target = (pair === undefined ? document.getIn(path, true) : pair.key) as Node | undefined;
  if (target === undefined)
    throw new ManifestError(
      'edit-no-such-place',
      `There is no '${pointer}' to put a comment at.`,
      'Name a place that the document has.',
    );
  target.commentBefore = remark;
}
