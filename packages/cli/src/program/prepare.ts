import type { Command } from 'commander';
import type { PrepareFlags } from '../commands/prepare-flags.ts';
import type { Io } from '../io.ts';
import type { Settle } from './settle.ts';

export function addPrepare(program: Command, io: Io, settle: Settle): void {
  program
    .command('prepare')
    .description('tell a contributor what a maintainer will ask about a change, before it is sent')
    .option('--base <rev>', 'what the change is counted from (default: where HEAD left the default branch)')
    .option('--add', 'write those missing lines into manifests of which nothing is left to a person', false)
    .option('-o, --output <file>', 'write the text of the submission, with pictures in a folder beside it')
    .option('--picture-url <url>', 'what the addresses of the pictures begin with in that text')
    .option('--no-shapes', 'do not look for relatives that nobody declared')
    .option('--registry <dir>', 'the folder that holds registry.yaml (default: found upward from here)')
    .option('--no-cache', 'compare everything anew, and remember nothing')
    .option('--json', 'print JSON', false)
    .addHelpText(
      'after',
      `
Looks at the folder as it is, committed or not. Writes nothing but what --add
and --output ask for. Exits with 1 where something stands in the way by the
policy of the base.

Examples:
  kinprint prepare
  kinprint prepare --add
  kinprint prepare --base origin/main --output submission.md`,
    )
    .action(async (options: PrepareFlags) => {
      const { prepareCommand } = await import('../commands/prepare.ts');
      settle(await prepareCommand(options, io));
    });
}
