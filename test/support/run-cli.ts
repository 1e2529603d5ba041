import type { Dialog } from '../../packages/cli/src/io.ts';
import { run } from '../../packages/cli/src/run.ts';

export interface Outcome {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

/**
 * Runs the command line in this process, as at an 80-column screen without colors.
 *
 * @param openDialog somebody at the terminal; nobody by default
 */
export async function runCli(
  args: readonly string[],
  cwd = process.cwd(),
  openDialog?: () => Dialog,
): Promise<Outcome> {
  const out: string[] = [];
  const err: string[] = [];
  const code = await run(args, {
    cwd,
    out: text => out.push(text),
    err: text => err.push(text),
    columns: 80,
    color: false,
    progress: false,
    ...(openDialog === undefined ? {} : { openDialog }),
  });
  return { code, out: out.join(''), err: err.join('') };
}
