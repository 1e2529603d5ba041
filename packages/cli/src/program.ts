import { Command, InvalidArgumentError, Option } from 'commander';
import type { CompareFlags, MeasureFlags } from './flags.ts';
import type { Io } from './io.ts';
import { version } from './version.ts';

const units = ['micron', 'millimeter', 'centimeter', 'inch', 'foot', 'meter'];
const directions = ['x', '-x', 'y', '-y', 'z', '-z'];

/**
 * The commands and their options. What they do is loaded only when one is called.
 *
 * @param settle takes the exit code of the command that ran
 */
export function buildProgram(io: Io, settle: (code: number) => void): Command {
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

  program
    .command('measure')
    .description('print what a mesh is: size, volume, mass properties, soundness, bores, walls, overhang')
    .argument('<file...>', 'STL, 3MF, OBJ or PLY files; the kind is told by content')
    .addOption(unitOption())
    .addOption(
      new Option('--up <direction>', 'build direction for overhang and bed contact')
        .choices(directions)
        .default('z'),
    )
    .option('--json', 'print JSON: an object for one file, an array for several', false)
    .addHelpText(
      'after',
      '\nExit code 2: a file could not be read, or a mesh in it has no volume (what can\nbe said of it is printed all the same).',
    )
    .action(async (files: string[], options: MeasureFlags) => {
      const { measureCommand } = await import('./commands/measure.ts');
      settle(await measureCommand(files, options, io));
    });

  program
    .command('compare')
    .description('tell what changed between two meshes, two directories, or two git states')
    .argument('<before>', 'a file, a directory; with --repo: REV, REV:path or REV1..REV2')
    .argument('[after]', 'likewise; not needed after REV1..REV2')
    .option('--repo <dir>', 'read both from the history of this git repository, without a checkout')
    .option('--as-placed', 'compare where the meshes stand, without aligning them', false)
    .option(
      '--tolerance <mm>',
      'surfaces within this distance are the same (default: 1 µm or 1e-6 of the size)',
      positive,
    )
    .option('--density <g/cm3>', 'density for the change of mass', positive, 1.24)
    .addOption(unitOption())
    .option('--fail-on <verdicts>', 'exit with 1 on any of these verdicts, separated by commas', list)
    .option('--json', 'print JSON', false)
    .addHelpText(
      'after',
      `
Examples:
  kinprint compare shell-old.stl shell-new.stl
  kinprint compare release-1/ release-2/
  kinprint compare --repo . HEAD~3..HEAD
  kinprint compare --repo . v1:parts/shell.stl v2:parts/shell.stl`,
    )
    .action(async (before: string, after: string | undefined, options: CompareFlags) => {
      const { compareCommand } = await import('./commands/compare.ts');
      settle(await compareCommand(before, after, options, io));
    });

  return program;
}

function unitOption(): Option {
  return new Option('--unit <unit>', 'unit of the numbers in the files, whatever they say').choices(units);
}

function positive(text: string): number {
  const value = Number(text);
  if (!(value > 0) || !Number.isFinite(value)) throw new InvalidArgumentError('It must be a number above 0.');
  return value;
}

function list(text: string): string[] {
  return text
    .split(',')
    .map(word => word.trim())
    .filter(Boolean);
}
