import { documentKinds, documentNames, type DocumentKind } from '../documents.ts';
import type { Draft } from './draft.ts';
import { quoted } from './draft.ts';

/** Whether a document is of another kind, of a newer version, or no document of ours at all. */
export function kindProblem(kind: DocumentKind, value: unknown): Draft | null {
  const expected = `kinprint: ${kind}/1`;
  if (value === null || value === undefined)
    return problem('document-empty', 'The document is empty.', `Begin it with '${expected}'.`, []);
  if (typeof value !== 'object' || Array.isArray(value))
    return problem('wrong-type', 'The document must be a group of keys.', `Begin it with '${expected}'.`, []);
  const mark = (value as Record<string, unknown>)['kinprint'];
  if (mark === undefined)
    return problem(
      'document-kind',
      "The key 'kinprint' is missing, which tells what the document is.",
      `Begin it with '${expected}'.`,
      [],
    );
  if (mark === `${kind}/1`) return null;
  const remedy = `Write '${expected}'.`;
  if (typeof mark !== 'string')
    return problem('document-kind', `'kinprint' must tell the kind of document.`, remedy, ['kinprint']);
  const [named, version] = mark.split('/');
  const other = documentKinds.find(one => one === named);
  if (other === kind && /^\d+$/.test(version ?? ''))
    return problem(
      'document-version',
      `The document is written in version ${version}; version 1 is understood here.`,
      'Use a newer kinprint.',
      ['kinprint'],
    );
  if (other !== undefined && other !== kind)
    return problem(
      'document-kind',
      `This is ${documentNames[other]}; ${documentNames[kind]} is expected here.`,
      `Move the file to its place, or write '${expected}'.`,
      ['kinprint'],
    );
  return problem('document-kind', `${quoted(mark)} is no kind of document.`, remedy, ['kinprint']);
}

function problem(code: Draft['code'], text: string, remedy: string, path: string[]): Draft {
  return { code, text, remedy, where: { kind: 'value', path } };
}
