import { Option, type Command } from 'commander';
import type { LineageFlags } from '../commands/lineage-flags.ts';
import type { Io } from '../io.ts';
import type { Settle } from './settle.ts';

const formats = ['text', 'svg', 'html', 'dot', 'mermaid', 'prov-json', 'json'];

export function addLineage(program: Command, io: Io, settle: Settle): void {
  program
    .command('lineage')
    .description('show which revisions came from which, with status and license of each')
    .argument('[variant]', 'DEVICE/VARIANT or DEVICE/VARIANT@LETTER; the whole registry where left out')
    .addOption(new Option('--ancestors', 'only what it came from').default(false).conflicts('descendants'))
    .addOption(new Option('--descendants', 'only what came from it').default(false))
    .addOption(
      new Option('--common <other>', 'the nearest common ancestors of both').conflicts([
        'ancestors',
        'descendants',
      ]),
    )
    .addOption(new Option('--format <format>', 'what to print').choices(formats).default('text'))
    .option('--output <file>', 'write to this file')
    .option('--registry <dir>', 'the registry (default: the one that this folder is in)')
    .option('--sources', 'fetch the registries listed as sources first (fetched ones are always read)', false)
    .option('--json', 'the same as --format json', false)
    .addHelpText(
      'after',
      `
Title, license, authors and size are those of a variant's present manifest. Whether
its content has changed since the last letter is looked at for [variant] alone;
kinprint check looks at all.

Examples:
  kinprint lineage
  kinprint lineage utensil-cuff/left-58 --ancestors
  kinprint lineage utensil-cuff/left-58 --common utensil-cuff/right-62
  kinprint lineage --format html --output lineage.html`,
    )
    .action(async (variant: string | undefined, options: LineageFlags) => {
      const { lineageCommand } = await import('../commands/lineage.ts');
      settle(await lineageCommand(variant, options, io));
    });
}
