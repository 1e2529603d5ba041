import { statSync } from 'node:fs';
import type { InputError } from '@kinprint/mesh';
import { resultOrError } from './outcome.ts';
import { openPool } from './pool.ts';
import type { FileOptions, FileReport } from './task.ts';

/**
 * Measures files, across threads where there is enough to do: one file each, or all at one large file. A file that cannot be read gives its error in its
 * place and does not keep the others from being measured.
 *
 * @param progress told how many are done
 * @returns one for each path, in their order
 * @throws Error for a fault of ours, after all files were tried
 */
export async function measureFiles(
  paths: readonly string[],
  options: FileOptions = {},
  progress: (done: number) => void = () => undefined,
): Promise<(FileReport | InputError)[]> {
  const bytes = paths.reduce((sum, path) => sum + (statSync(path, { throwIfNoEntry: false })?.size ?? 0), 0);
  const pool = openPool({ bytes, tasks: paths.length });
  let done = 0;
  try {
    const outcomes = await Promise.all(
      paths.map(async path => {
        const content = { kind: 'file', path, root: null } as const;
        const outcome = await pool.run(() =>
          Promise.resolve({ kind: 'measure', file: { name: path, content, body: null }, options }),
        );
        progress(++done);
        return outcome;
      }),
    );
    return outcomes.map(resultOrError);
  } finally {
    await pool.close();
  }
}
