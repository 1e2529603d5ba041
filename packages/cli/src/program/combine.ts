import type { Command } from 'commander';
import type { CombineFlags } from '../commands/combine.ts';
import type { Io } from '../io.ts';
import { list, positive, unitOption } from './options.ts';
import type { Settle } from './settle.ts';

export function addCombine(program: Command, io: Io, settle: Settle): void {
  program
    .command('combine')
    .description('bring two remixes of one base together: the changes of both on one solid')
    .argument('<base>', 'the mesh file both were made from')
    .argument('<remix-a>', 'a mesh file')
    .argument('<remix-b>', 'another')
    .option('-o, --output <file>', 'write the result here, .stl or .3mf; without it nothing is written')
    .option(
      '--take <choices>',
      'where changes are in conflict: a, b, both or none; or for each: 1=a,2=both',
      (text: string, all: string[] = []) => [...all, ...list(text)],
    )
    .option('--as-placed', 'take the remixes where they stand, without aligning them', false)
    .option(
      '--tolerance <mm>',
      'surfaces within this distance are the same (default: 1 µm or 1e-6 of the size)',
      positive,
    )
    .option('--touch <mm>', 'changes nearer to each other than this touch (default: 0.05)', positive)
    .addOption(unitOption())
    .option('--json', 'print JSON', false)
    .addHelpText(
      'after',
      `
Both remixes are laid over the base. What each added and removed is put on the base, once
where both made the same change. Where a change of one touches a change of the other, that
is a conflict, named with its place, and a person chooses. The result is compared with all
three before it is written: every change must be found in it, and no other.

Exit code 1: a conflict is open, or the result does not show what it should.

Examples:
  kinprint combine shell.stl wider.stl vented.stl -o both.stl
  kinprint combine shell.stl wider.stl vented.stl -o both.stl --take 1=a,2=both`,
    )
    .action(async (base: string, a: string, b: string, options: CombineFlags) => {
      const { combineCommand } = await import('../commands/combine.ts');
      settle(await combineCommand({ base, a, b }, options, io));
    });
}
