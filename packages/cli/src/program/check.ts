import { Option, type Command } from 'commander';
import type { CheckFlags } from '../commands/check.ts';
import type { Io } from '../io.ts';
import type { Settle } from './settle.ts';

export function addCheck(program: Command, io: Io, settle: Settle): void {
  program
    .command('check')
    .description('tell what is wrong with a registry: its manifests, files, meshes, interfaces, lineage')
    .argument('[variant...]', 'device/variant; the whole registry when none is named')
    .option('--registry <dir>', 'the folder that holds registry.yaml (default: found upward from here)')
    .option('--at <rev>', 'check what a git revision holds, without a checkout')
    .option(
      '--shard <i/n>',
      'check only the I-th of N parts of the variants; shard 1 checks the whole as well',
    )
    .addOption(
      new Option('--fail-on <severity>', 'exit with 1 from this on')
        .choices(['error', 'warning'])
        .default('error'),
    )
    .option('--no-cache', 'measure everything anew, and remember nothing')
    .option('--json', 'print JSON', false)
    .addHelpText(
      'after',
      `
Exit code 1: there are errors (with --fail-on warning: or warnings).

What the cache holds is believed. Share one only among branches whose authors
you trust; check what comes from others with --no-cache.

Examples:
  kinprint check
  kinprint check cuff/left cuff/right
  kinprint check --at v2 --json
  kinprint check --shard 2/5`,
    )
    .action(async (variants: string[], options: CheckFlags) => {
      const { checkCommand } = await import('../commands/check.ts');
      settle(await checkCommand(variants, options, io));
    });
}
