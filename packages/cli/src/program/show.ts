import { Option, type Command } from 'commander';
import type { ShowFlags } from '../commands/registry-flags.ts';
import type { Io } from '../io.ts';
import type { Settle } from './settle.ts';

export function addShow(program: Command, io: Io, settle: Settle): void {
  program
    .command('show')
    .description('show one variant: who made it, license, parts, hardware, fit, cautions, revisions')
    .argument('<variant>', 'DEVICE/VARIANT, or DEVICE/VARIANT@LETTER from history')
    .addOption(
      new Option('--format <format>', 'what to print').choices(['text', 'json', 'okh']).default('text'),
    )
    .option('--repo <url>', 'with okh: where the registry is published (default: the address of origin)')
    .option('--at <rev>', 'read the registry as a git revision holds it, without a checkout')
    .option('--registry <dir>', 'the folder that holds registry.yaml (default: found upward from here)')
    .option('--no-cache', 'measure everything anew, and remember nothing')
    .option('--json', 'the same as --format json', false)
    .addHelpText('after', '\nokh is a manifest of the Open Know-How specification, in TOML.')
    .action(async (variant: string, options: ShowFlags) => {
      const { showCommand } = await import('../commands/show.ts');
      settle(await showCommand(variant, options, io));
    });
}
