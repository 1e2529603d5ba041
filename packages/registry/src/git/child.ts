import type { ChildProcessWithoutNullStreams } from 'node:child_process';
import path from 'node:path';
import { InputError } from '@kinprint/mesh';

/** Of the caller's environment: where programs are, and these variables where they are set. */
export function callersEnvironment(names: readonly string[]): Record<string, string> {
  const kept = names.flatMap(name => {
    const value = process.env[name];
    return value === undefined ? [] : [[name, value] as const];
  });
  // A relative folder in PATH would look for programs in whatever folder git runs in.
  const folders = (process.env['PATH'] ?? '').split(path.delimiter).filter(folder => path.isAbsolute(folder));
  return { ...Object.fromEntries(kept), PATH: folders.join(path.delimiter) };
}

export interface ChildOutput {
  /** null when the child was ended by its time limit or by somebody else. */
  readonly code: number | null;
  readonly out: Buffer;
  /** The beginning of what it complained of. */
  readonly err: string;
}

/**
 * Feeds a git child and waits for its end.
 *
 * @throws InputError `git-missing`
 */
export function outputOf(
  child: ChildProcessWithoutNullStreams,
  input: Uint8Array | string,
): Promise<ChildOutput> {
  child.stdin.on('error', () => undefined); // the end of the child says why
  child.stdin.end(input);
  return new Promise((resolve, reject) => {
    const out: Buffer[] = [];
    let err = '';
    child.stdout.on('data', (piece: Buffer) => out.push(piece));
    child.stderr.on('data', (piece: Buffer) => (err = (err + piece.toString()).slice(0, 4096)));
    child.on('error', error => reject(startError(error)));
    child.on('close', code => resolve({ code, out: Buffer.concat(out), err }));
  });
}

/** What a child that could not be started means for the user. */
export function startError(error: Error): Error {
  return 'code' in error && error.code === 'ENOENT'
    ? new InputError(
        'git-missing',
        'The program git was not found.',
        'Install git, or compare files and folders.',
      )
    : error;
}
