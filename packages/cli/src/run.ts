import { CommanderError } from 'commander';
import { InputError } from '@kinprint/mesh';
import { clean, inputErrorText } from '@kinprint/report';
import { exit, type Io } from './io.ts';
import { buildProgram } from './program.ts';
import { refusedBySystem } from './system-error.ts';

/**
 * The command line as a function: arguments and streams in, exit code out. Never throws.
 *
 * @returns 0 fine · 1 findings that a gate should stop on · 2 wrong use or unusable input · 70 a fault of ours
 */
export async function run(argv: readonly string[], io: Io): Promise<number> {
  let code: number = exit.fine;
  const program = buildProgram(io, c => (code = Math.max(code, c)));
  try {
    await program.parseAsync(argv, { from: 'user' });
    return code;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? exit.fine : exit.usage;
    const told = error instanceof InputError ? error : refusedBySystem(error);
    if (told !== null) {
      io.err(inputErrorText(told));
      return exit.usage;
    }
    io.err(faultText(error));
    return exit.fault;
  }
}

function faultText(error: unknown): string {
  const detail = error instanceof Error ? (error.stack ?? error.message) : String(error);
  return `kinprint: a fault of the program, not of your files. Please report it with these lines:\n${clean(detail).replaceAll('\\u{a}', '\n')}\n`;
}
