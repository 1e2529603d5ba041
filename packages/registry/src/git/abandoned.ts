import { readdirSync, rmSync } from 'node:fs';
import path from 'node:path';

/**
 * Removes what processes that were killed left in a folder.
 *
 * @param pattern of the names, of files or folders; its first group is the id of the process that made them
 */
export function removeAbandoned(folder: string, pattern: RegExp): void {
  for (const name of readdirSync(folder)) {
    const maker = pattern.exec(name)?.[1];
    if (maker !== undefined && !isAlive(Number(maker)))
      rmSync(path.join(folder, name), { recursive: true, force: true });
  }
}

/** Whether a process of that id runs, whoever's it is. */
export function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return error instanceof Error && 'code' in error && error.code === 'EPERM';
  }
}
