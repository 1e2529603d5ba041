import type { Command } from 'commander';
import type { AdoptFlags } from '../commands/adopt.ts';
import type { Io } from '../io.ts';
import { unitOption } from './options.ts';
import type { Settle } from './settle.ts';

export function addAdopt(program: Command, io: Io, settle: Settle): void {
  program
    .command('adopt')
    .description('make an existing directory or git repository of meshes a device of a registry')
    .argument('<path>', 'a folder of meshes, or a git repository (its history becomes revisions)')
    .option('--registry <dir>', 'the folder that holds registry.yaml (default: found upward from here)')
    .option('--device <id>', "the name of the new device's folder (default: made from the path)")
    .option('--at <rev>', 'adopt what this git revision holds, and what led to it')
    .option('--no-history', 'take what is there now, without what was before')
    .option('--one-variant', 'make one variant, whatever sizes and hands are found', false)
    .option('--contacts', 'write down how authors can be reached, as git gives it', false)
    .addOption(unitOption())
    .option('--dry-run', 'say what would become of it, and write nothing', false)
    .option('--json', 'print JSON', false)
    .addHelpText(
      'after',
      `
Nothing is overwritten; the directory or repository itself is left as it is.
What is uncertain is marked in the manifests and listed for a person to settle.
A registry is made by kinprint start first.

Examples:
  kinprint adopt ../cuff-meshes --dry-run
  kinprint adopt ../cuff-meshes --device utensil-cuff
  kinprint adopt . --at v2 --registry ../lending-group`,
    )
    .action(async (place: string, options: AdoptFlags) => {
      const { adoptCommand } = await import('../commands/adopt.ts');
      settle(await adoptCommand(place, options, io));
    });
}
