import { Command } from 'commander';
import type { Io } from './io.ts';
import { addAdopt } from './program/adopt.ts';
import { addCheck } from './program/check.ts';
import { addCompare } from './program/compare.ts';
import { addLineage } from './program/lineage.ts';
import { addMeasure } from './program/measure.ts';
import type { Settle } from './program/settle.ts';
import { version } from './version.ts';

/**
 * The commands and their options. What they do is loaded only when one is called.
 *
 * @param settle takes the exit code of the command that ran
 */
export function buildProgram(io: Io, settle: Settle): Command {
  const program = new Command('kinprint')
    .description('Measures printable meshes, and tells what really changed between two of them.')
    .version(version, '-V, --version', 'print the version')
    .helpOption('-h, --help', 'show help')
    .helpCommand('help [command]', 'show help for a command')
    .showHelpAfterError('(see --help)')
    .configureOutput({
      writeOut: io.out,
      writeErr: io.err,
      getOutHelpWidth: () => io.columns,
      getErrHelpWidth: () => io.columns,
    })
    .exitOverride();

  addMeasure(program, io, settle);
  addCompare(program, io, settle);
  addCheck(program, io, settle);
  addLineage(program, io, settle);
  addAdopt(program, io, settle);
  return program;
}
