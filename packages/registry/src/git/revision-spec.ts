import { InputError } from '@kinprint/mesh';

/** A git state as a user names it: a revision, and a file or folder in it (`''` is everything). */
export interface RevisionSpec {
  /** As typed. */
  readonly text: string;
  readonly revision: string;
  readonly path: string;
}

/**
 * Reads `REV`, `REV:path`, `REV1..REV2` and `REV1..REV2:path` (the path in both).
 *
 * An end of a range that is left empty means HEAD, as git has it. A colon inside braces belongs to the revision
 * (`HEAD@{yesterday 12:00}`).
 *
 * @returns one state, or two for a range
 * @throws InputError `revision-bad`
 */
export function parseRevisionSpec(
  text: string,
): readonly [RevisionSpec] | readonly [RevisionSpec, RevisionSpec] {
  const colon = colonAfterRevision(text);
  const revision = colon < 0 ? text : text.slice(0, colon);
  const path = colon < 0 ? '' : cleanPath(text.slice(colon + 1), text);
  const dots = revision.indexOf('..');
  if (dots < 0) return [spec(text, revision, path)];
  const ends = [revision.slice(0, dots), revision.slice(dots + 2)] as const;
  if (ends[1].startsWith('.') || ends[1].includes('..'))
    throw bad(text, 'Three dots, or several ranges, have no meaning here.', 'Write REV1..REV2.');
  if (ends[0] === '' && ends[1] === '') throw bad(text, 'A range needs a revision.', 'Write REV1..REV2.');
  const [before, after] = ends.map(end => {
    const name = end === '' ? 'HEAD' : end;
    return spec(path === '' ? name : `${name}:${path}`, name, path);
  });
  return [before, after];
}

function spec(text: string, revision: string, path: string): RevisionSpec {
  if (revision === '')
    throw bad(
      text,
      'The revision is missing.',
      'Write REV or REV:path, with a branch, a tag or a commit for REV.',
    );
  if (revision.startsWith('-'))
    throw bad(text, 'A revision does not begin with a dash.', 'Write a branch, a tag or a commit.');
  if (revision.startsWith('^'))
    throw bad(text, 'An excluded revision names no state.', 'Write REV1..REV2 to compare two.');
  if (/[\u0000-\u001f\u007f]/.test(revision))
    throw bad(text, 'A revision has no control characters.', 'Write a branch, a tag or a commit.');
  return { text, revision, path };
}

function colonAfterRevision(text: string): number {
  let depth = 0;
  for (let i = 0; i < text.length; i++) {
    if (text[i] === '{') depth++;
    else if (text[i] === '}') depth--;
    else if (text[i] === ':' && depth <= 0) return i;
  }
  return -1;
}

/** Without `./`, doubled and trailing slashes. */
function cleanPath(path: string, text: string): string {
  const parts = path.split('/').filter(part => part !== '' && part !== '.');
  if (parts.includes('..'))
    throw bad(
      text,
      'A path in a revision does not lead upwards.',
      'Write the path from the root of the repository.',
    );
  return parts.join('/');
}

function bad(text: string, what: string, remedy: string): InputError {
  return new InputError('revision-bad', `'${text}' names no git state: ${what}`, remedy);
}
