import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';

/** A real repository in the temporary folder, made with git itself. */
export interface TemporaryRepository {
  readonly folder: string;
  /** Runs git in it; returns what it prints, without the last line end. */
  git(...args: string[]): string;
  /** Writes a file, and the folders above it. */
  write(file: string, content: string | Uint8Array): void;
  /** Adds everything and commits; returns the commit's id. */
  commit(message: string): string;
}

const made: string[] = [];

/** An empty folder that `removeTemporaryFolders` removes. */
export function temporaryFolder(): string {
  const folder = mkdtempSync(path.join(tmpdir(), 'kinprint-test-'));
  made.push(folder);
  return folder;
}

/** For `afterAll`. */
export function removeTemporaryFolders(): void {
  for (const folder of made.splice(0)) rmSync(folder, { recursive: true, force: true });
}

const environment = {
  PATH: process.env['PATH'] ?? '',
  LC_ALL: 'C',
  GIT_CONFIG_NOSYSTEM: '1',
  GIT_CONFIG_GLOBAL: '/dev/null',
  GIT_AUTHOR_NAME: 'Robin Sample',
  GIT_AUTHOR_EMAIL: 'robin@example.org',
  GIT_COMMITTER_NAME: 'Robin Sample',
  GIT_COMMITTER_EMAIL: 'robin@example.org',
  GIT_AUTHOR_DATE: '2024-05-01T12:00:00Z',
  GIT_COMMITTER_DATE: '2024-05-01T12:00:00Z',
};

/** Gives this process the invented identity, for calls that commit as the user would. */
export function identity(): void {
  for (const [name, value] of Object.entries(environment)) if (name !== 'PATH') process.env[name] = value;
}

/** git in any folder, with an invented identity and no settings of this machine. */
export function gitIn(folder: string, ...args: string[]): string {
  return execFileSync('git', ['-C', folder, ...args], {
    env: environment,
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'pipe'],
  }).replace(/\n$/, '');
}

/** git in any folder, fed through its standard input. */
export function gitWith(folder: string, input: string | Uint8Array, ...args: string[]): string {
  return execFileSync('git', ['-C', folder, ...args], { env: environment, encoding: 'utf8', input }).replace(
    /\n$/,
    '',
  );
}

export function temporaryRepository(...initOptions: string[]): TemporaryRepository {
  const folder = temporaryFolder();
  gitIn(folder, 'init', '-q', '-b', 'main', ...initOptions);
  const git = (...args: string[]) => gitIn(folder, ...args);
  return {
    folder,
    git,
    write(file, content) {
      const absolute = path.join(folder, file);
      mkdirSync(path.dirname(absolute), { recursive: true });
      writeFileSync(absolute, content);
    },
    commit(message) {
      git('add', '-A');
      git('commit', '-q', '--allow-empty', '-m', message);
      return git('rev-parse', 'HEAD');
    },
  };
}
