import { openDialog } from './dialog.ts';
import type { Io } from './io.ts';
import { run } from './run.ts';

/** Runs the command line of this process: its streams, its directory, its exit code. */
export async function runProcess(argv: readonly string[]): Promise<void> {
  // A reader that has seen enough (`| head`) closes the pipe: not an error, and nobody is left to tell.
  process.stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE') process.exit(0);
    throw error;
  });
  const io: Io = {
    cwd: process.cwd(),
    out: text => void process.stdout.write(text),
    err: text => void process.stderr.write(text),
    columns: process.stdout.isTTY ? Math.max(40, Math.min(process.stdout.columns || 80, 120)) : 80,
    color: wantsColor(process.stdout.isTTY, process.env),
    progress: process.stderr.isTTY,
    ...(process.stdin.isTTY && process.stdout.isTTY
      ? { openDialog: () => openDialog(process.stdin, text => void process.stdout.write(text)) }
      : {}),
  };
  process.exitCode = await run(argv, io);
}

/** Colors on a terminal only; NO_COLOR and FORCE_COLOR as customary (common practice, no standard). */
function wantsColor(tty: boolean, env: NodeJS.ProcessEnv): boolean {
  if (env['NO_COLOR'] !== undefined && env['NO_COLOR'] !== '') return false;
  if (env['FORCE_COLOR'] !== undefined && env['FORCE_COLOR'] !== '0') return true;
  return tty && env['TERM'] !== 'dumb';
}
