import type { Command } from 'commander';
import type { ReviewFlags } from '../commands/review-flags.ts';
import type { Io } from '../io.ts';
import type { Settle } from './settle.ts';

export function addReview(program: Command, io: Io, settle: Settle): void {
  program
    .command('review')
    .description('tell a maintainer what a change brings: shapes, fit, credit, licenses, vetting')
    .argument('<change>', 'BASE..HEAD, two git revisions; BASE alone: BASE and the folder as it is')
    .argument('[after]', 'with it both are variants, DEVICE/VARIANT or DEVICE/VARIANT@LETTER')
    .option('--html <file>', 'write a page with a 3D viewer, which works offline')
    .option('--markdown <file>', 'write it for a pull request, with pictures in a folder beside it')
    .option('--sarif <file>', 'write the findings as SARIF 2.1.0')
    .option('--junit <file>', 'write the findings as a test report')
    .option('--picture-url <url>', 'what the addresses of the pictures begin with in the Markdown')
    .option('--no-shapes', 'do not look for relatives that nobody declared')
    .option('--registry <dir>', 'the folder that holds registry.yaml (default: found upward from here)')
    .option('--no-cache', 'compare everything anew, and remember nothing')
    .option('--json', 'print JSON', false)
    .addHelpText(
      'after',
      `
What HEAD brings since it left BASE is looked at; nothing of it is checked out
or run. Exits with 1 where findings block it: errors, or what policy.review of
registry.yaml names; that of BASE counts.

Examples:
  kinprint review main..remix
  kinprint review main..remix --html review.html
  kinprint review main..remix --markdown review.md --sarif review.sarif
  kinprint review main
  kinprint review cuff/left@A cuff/left@B`,
    )
    .action(async (change: string, after: string | undefined, options: ReviewFlags) => {
      const { reviewCommand } = await import('../commands/review.ts');
      settle(await reviewCommand(change, after, options, io));
    });
}
