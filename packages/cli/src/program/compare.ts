import type { Command } from 'commander';
import type { CompareFlags } from '../flags.ts';
import type { Io } from '../io.ts';
import { list, positive, unitOption } from './options.ts';
import type { Settle } from './settle.ts';

export function addCompare(program: Command, io: Io, settle: Settle): void {
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
      const { compareCommand } = await import('../commands/compare.ts');
      settle(await compareCommand(before, after, options, io));
    });
}
