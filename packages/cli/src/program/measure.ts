import { Option, type Command } from 'commander';
import type { MeasureFlags } from '../flags.ts';
import type { Io } from '../io.ts';
import { unitOption } from './options.ts';
import type { Settle } from './settle.ts';

const directions = ['x', '-x', 'y', '-y', 'z', '-z'];

export function addMeasure(program: Command, io: Io, settle: Settle): void {
  program
    .command('measure')
    .description('print what a mesh is: size, volume, mass properties, soundness, bores, walls, overhang')
    .argument('<file...>', 'STL, 3MF, OBJ or PLY files; the kind is told by content')
    .addOption(unitOption())
    .addOption(
      new Option('--up <direction>', 'build direction for overhang and bed contact')
        .choices(directions)
        .default('z'),
    )
    .option('--json', 'print JSON: an object for one file, an array for several', false)
    .addHelpText(
      'after',
      '\nExit code 2: a file could not be read, or a mesh in it has no volume (what can\nbe said of it is printed all the same).',
    )
    .action(async (files: string[], options: MeasureFlags) => {
      const { measureCommand } = await import('../commands/measure.ts');
      settle(await measureCommand(files, options, io));
    });
}
