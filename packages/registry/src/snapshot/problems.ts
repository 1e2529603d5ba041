import { InputError } from '@kinprint/mesh';
import type { LfsPointer } from './lfs-pointer.ts';
import type { EntryProblem, EntryProblemCode } from './types.ts';

export function missingObject(id: string): EntryProblem {
  return {
    code: 'missing',
    text: `The repository does not hold the object ${id}.`,
    remedy: 'Fetch it (this may be a partial clone), or check the repository with git fsck.',
  };
}

export function unfetchedPointer(pointer: LfsPointer): EntryProblem {
  return {
    code: 'lfs-pointer',
    text: `Only a large-file pointer is here (sha256 ${pointer.oid}, ${pointer.size} bytes), not the mesh.`,
    remedy: 'Fetch the large files of this revision, then compare again.',
  };
}

export function damagedPointer(pointer: LfsPointer): EntryProblem {
  return {
    code: 'lfs-damaged',
    text: `The local copy of the large file ${pointer.oid} has other content than its pointer names.`,
    remedy: 'Delete the local copy and fetch it again.',
  };
}

export function tooLarge(size: number, limit: number): EntryProblem {
  return {
    code: 'too-large',
    text: `The file is ${size} bytes large; at most ${limit} are read.`,
    remedy: 'Compare a coarser export.',
  };
}

export function unreadable(why: string): EntryProblem {
  return { code: 'unreadable', text: why, remedy: 'Check that the file exists and that you may read it.' };
}

export function notRegular(what: string): EntryProblem {
  return {
    code: 'not-regular',
    text: `This is ${what}, which is not followed.`,
    remedy: 'Put the file itself in its place.',
  };
}

/** The error that opening an entry with this problem throws. */
export function problemError(problem: EntryProblem, file: string): InputError {
  const code: EntryProblemCode = problem.code;
  return new InputError(code, problem.text, problem.remedy, { file });
}
