import type { Command } from 'commander';
import type { RecordFlags } from '../commands/registry-flags.ts';
import type { Io } from '../io.ts';
import type { Settle } from './settle.ts';

export function addRecord(program: Command, io: Io, settle: Settle): void {
  program
    .command('record')
    .description(
      'fix what a variant is now as its next revision: letter, digest, what changed; and commit it',
    )
    .argument('<variant>', 'DEVICE/VARIANT')
    .option('--by <name>', "who records it (default: git's user.name)")
    .option(
      '--date <yyyy-mm-dd>',
      "date of the revision (default: today); not before the previous letter's, not in the future",
    )
    .option('--any-date', "import an older state: the date may be before the previous letter's", false)
    .option('--letter <letter>', 'the letter to give (default: the next that no branch uses)')
    .option('--summary <text>', 'a line of your own before what the comparison finds')
    .option('--dry-run', 'say what would be recorded, and write nothing', false)
    .option('--registry <dir>', 'the folder that holds registry.yaml (default: found upward from here)')
    .option('--json', 'print JSON', false)
    .addHelpText(
      'after',
      `
The letter is the next one that no branch or tag here, fetched ones included,
gave to other content. Refuses (exit code 1) when kinprint check finds errors in
the variant. Commits the variant's folder alone, without hooks and signatures;
what else is staged stays so.`,
    )
    .action(async (variant: string, options: RecordFlags) => {
      const { recordCommand } = await import('../commands/record.ts');
      settle(await recordCommand(variant, options, io));
    });
}
