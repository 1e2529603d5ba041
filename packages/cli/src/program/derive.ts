import { Option, type Command } from 'commander';
import type { DeriveFlags } from '../commands/registry-flags.ts';
import type { Io } from '../io.ts';
import { positive } from './options.ts';
import type { Settle } from './settle.ts';

const relations = ['remix', 'mirror', 'rescale', 'copy', 'combination'];

export function addDerive(program: Command, io: Io, settle: Settle): void {
  program
    .command('derive')
    .description('begin a new variant from a recorded revision, with link, credit and license carried over')
    .argument(
      '<variant>',
      'DEVICE/VARIANT@LETTER; the last letter where left out; SOURCE:… for other registries',
    )
    .argument('<new>', 'name of the new variant, or DEVICE/NAME')
    .addOption(
      new Option('--relation <relation>', 'what the new variant is to the old')
        .choices(relations)
        .default('remix'),
    )
    .option('--scale <factor>', 'with --relation rescale: every mesh is scaled by this', positive)
    .option('--from <variant...>', 'with --relation combination: the other parents')
    .option('--title <text>', 'title of the new variant')
    .option('--registry <dir>', 'the folder that holds registry.yaml (default: found upward from here)')
    .option('--json', 'print JSON', false)
    .addHelpText(
      'after',
      `
Meshes are really mirrored (across x = 0) or rescaled; what interfaces hold at size is
marked for you to settle.

Examples:
  kinprint derive cuff/left@B left-wide
  kinprint derive cuff/left right --relation mirror
  kinprint derive cuff/left left-large --relation rescale --scale 1.12
  kinprint derive cuff/left both --relation combination --from cuff/strap@A`,
    )
    .action(async (from: string, to: string, options: DeriveFlags) => {
      const { deriveCommand } = await import('../commands/derive.ts');
      settle(await deriveCommand(from, to, options, io));
    });
}
