import type { Command } from 'commander';
import type { KinFlags } from '../commands/kin.ts';
import type { Io } from '../io.ts';
import { positive, unitOption } from './options.ts';
import type { Settle } from './settle.ts';

export function addKin(program: Command, io: Io, settle: Settle): void {
  program
    .command('kin')
    .description('tell which registered parts a mesh or a part is related to, by shape')
    .argument('<mesh>', 'a mesh file; or device/variant or device/variant/part of the registry')
    .option('--registry <dir>', 'the folder that holds registry.yaml (default: found upward from here)')
    .option('--sources', 'look through the registries that this one lists as sources as well', false)
    .option('--limit <n>', 'relatives told of each part, at most (default: 20)', positive)
    .addOption(unitOption())
    .option('--no-cache', 'read everything anew, and remember nothing')
    .option('--json', 'print JSON', false)
    .addHelpText(
      'after',
      `
Finds the same shape moved, mirrored, rescaled or triangulated anew, and shapes
reworked from one another; each was compared, and the evidence is told.

Examples:
  kinprint kin found-somewhere.stl
  kinprint kin cuff/left
  kinprint kin cuff/left/shell --sources --json`,
    )
    .action(async (mesh: string, options: KinFlags) => {
      const { kinCommand } = await import('../commands/kin.ts');
      settle(await kinCommand(mesh, options, io));
    });
}
