import { InputError } from '@kinprint/mesh';

/** What the system may refuse whatever we do, and what a person can do about it. */
const refusals: Readonly<Record<string, readonly [string, string]>> = {
  ENOSPC: ['The disk is full.', 'Make room, then run this again.'],
  EDQUOT: ['Your share of the disk is used up.', 'Make room, then run this again.'],
  EFBIG: [
    'The file would be larger than the system allows.',
    'Raise the limit (ulimit -f), then run this again.',
  ],
  EROFS: ['The file system can only be read.', 'Choose a place that can be written to.'],
  EACCES: ['You may not do this here.', 'Check who owns the file and its folder, and their permissions.'],
  EPERM: ['You may not do this here.', 'Check who owns the file and its folder, and their permissions.'],
  EIO: ['The disk does not work as it should.', 'Check the disk; copy what is on it elsewhere.'],
  EMFILE: ['Too many files are open.', 'Raise the limit (ulimit -n), then run this again.'],
  ENFILE: ['Too many files are open on this machine.', 'Close other programs, then run this again.'],
};

/** An error of the operating system that is no fault of ours, as one that a person can act on; null for all others. */
export function refusedBySystem(error: unknown): InputError | null {
  if (!(error instanceof Error) || !('code' in error) || !('syscall' in error)) return null;
  const refusal = typeof error.code === 'string' ? refusals[error.code] : undefined;
  if (refusal === undefined) return null;
  const place = 'path' in error && typeof error.path === 'string' ? { file: error.path } : {};
  return new InputError('refused-by-system', `${refusal[0]} (${String(error.code)})`, refusal[1], place);
}
