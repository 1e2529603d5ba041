import { Option, type Command } from 'commander';
import type { CreditsFlags } from '../commands/audit-flags.ts';
import type { Io } from '../io.ts';
import { positive } from './options.ts';
import type { Settle } from './settle.ts';

export function addCredits(program: Command, io: Io, settle: Settle): void {
  program
    .command('credits')
    .description('write who must be named for a variant: everybody it came from, with license and changes')
    .argument('<variant>', 'DEVICE/VARIANT, or DEVICE/VARIANT@LETTER')
    .addOption(
      new Option('--format <format>', 'what to print')
        .choices(['text', 'markdown', 'html', 'label', 'json'])
        .default('text'),
    )
    .option('--columns <n>', 'with label: signs in a line', positive, 40)
    .option('--repo <url>', 'where the registry is published (default: the address of origin)')
    .option('--registry <dir>', 'the folder that holds registry.yaml (default: found upward from here)')
    .option('--json', 'the same as --format json', false)
    .action(async (variant: string, options: CreditsFlags) => {
      const { creditsCommand } = await import('../commands/credits.ts');
      settle(await creditsCommand(variant, options, io));
    });
}
