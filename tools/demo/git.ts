import { execFileSync } from 'node:child_process';
import type { Person } from './registry/people.ts';

/** git in one folder, with neither this machine's settings nor its clock. */
export type Git = (args: readonly string[], more?: Readonly<Record<string, string>>) => void;

const settings = [
  'core.autocrlf=false',
  'core.hooksPath=/dev/null',
  'commit.gpgSign=false',
  'tag.gpgSign=false',
  'gc.auto=0',
];

/** @param home a folder that stands for the user's own, empty */
export function gitIn(cwd: string, home: string): Git {
  const inherited = Object.fromEntries(
    Object.entries(process.env).filter(([name]) => !name.startsWith('GIT_')),
  );
  const fixed = settings.flatMap(setting => ['-c', setting]);
  return (args, more = {}) => {
    execFileSync('git', [...fixed, ...args], {
      cwd,
      stdio: ['ignore', 'ignore', 'inherit'],
      env: { ...inherited, ...isolated(home), ...more },
    });
  };
}

/** What keeps this machine's settings out. */
export function isolated(home: string): Record<string, string> {
  return { HOME: home, GIT_CONFIG_NOSYSTEM: '1', GIT_CONFIG_GLOBAL: '/dev/null' };
}

/** Who commits, and when: ISO 8601 with offset. */
export function identity({ name, email }: Person, date: string): Record<string, string> {
  return {
    GIT_AUTHOR_NAME: name,
    GIT_AUTHOR_EMAIL: email,
    GIT_AUTHOR_DATE: date,
    GIT_COMMITTER_NAME: name,
    GIT_COMMITTER_EMAIL: email,
    GIT_COMMITTER_DATE: date,
  };
}
