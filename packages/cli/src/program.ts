import { Command } from 'commander';
import type { Io } from './io.ts';
import { addAdopt } from './program/adopt.ts';
import { addAudit } from './program/audit.ts';
import { addCheck } from './program/check.ts';
import { addCombine } from './program/combine.ts';
import { addCompare } from './program/compare.ts';
import { addCredits } from './program/credits.ts';
import { addKin } from './program/kin.ts';
import { addLineage } from './program/lineage.ts';
import { addDerive } from './program/derive.ts';
import { addMeasure } from './program/measure.ts';
import { addPicture } from './program/picture.ts';
import { addPrepare } from './program/prepare.ts';
import { addRecord } from './program/record.ts';
import { addReview } from './program/review.ts';
import { addShow } from './program/show.ts';
import { addStart } from './program/start.ts';
import type { Settle } from './program/settle.ts';
import { version } from './version.ts';

/**
 * The commands and their options. What they do is loaded only when one is called.
 *
 * @param settle takes the exit code of the command that ran
 */
export function buildProgram(io: Io, settle: Settle): Command {
  const program = new Command('kinprint')
    .description(
      'Keeps the kin of an openly shared printable device together: measures and compares its meshes, and keeps a registry of who made what from what.',
    )
    .version(version, '-V, --version', 'print the version')
    .helpOption('-h, --help', 'show help')
    .helpCommand('help [command]', 'show help for a command')
    .configureHelp({ subcommandTerm: command => command.name() })
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
  addCombine(program, io, settle);
  addPicture(program, io, settle);
  addPrepare(program, io, settle);
  addReview(program, io, settle);
  addCheck(program, io, settle);
  addAudit(program, io, settle);
  addCredits(program, io, settle);
  addKin(program, io, settle);
  addLineage(program, io, settle);
  addAdopt(program, io, settle);
  addStart(program, io, settle);
  addDerive(program, io, settle);
  addRecord(program, io, settle);
  addShow(program, io, settle);
  return program;
}
