import type { Command } from 'commander';
import type { CombineFlags } from '../commands/combine-flags.ts';
import type { Io } from '../io.ts';
import { list, positive, unitOption } from './options.ts';
import type { Settle } from './settle.ts';

export function addCombine(program: Command, io: Io, settle: Settle): void {
  program
    .command('combine')
    .description('bring two remixes of one base together: the changes of both on one solid')
    .argument('<base>', 'what both were made from: a mesh file, or DEVICE/VARIANT@LETTER')
    .argument('<remix-a>', 'likewise')
    .argument('<remix-b>', 'likewise')
    .argument('[new]', 'with variants: name of the new one, or DEVICE/NAME')
    .option('-o, --output <file>', 'with files: write the result here, .stl or .3mf; else nothing is written')
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
    .option('--title <text>', 'with variants: title of the new one')
    .option('--registry <dir>', 'the folder that holds registry.yaml (default: found upward from here)')
    .option('--json', 'print JSON', false)
    .addHelpText(
      'after',
      `
Both remixes are laid over the base. What each added and removed is put on the base, once
where both made the same change. Where a change of one touches a change of the other, that
is a conflict, named with its place, and a person chooses: at a terminal you are asked,
elsewhere --take says it. The result is compared with all three before it is written:
every change must be found in it, and no other.

Of variants, parts that one side changed are taken from it, parts that both changed are
combined, manifests are merged field by field. A conflict in a part's mesh is settled by
--take PART:NUMBER=…, one in a manifest by its key: --take parts/leaf/quantity=a.

Exit code 1: a conflict is open, or the result does not show what it should.

Examples:
  kinprint combine shell.stl wider.stl vented.stl -o both.stl
  kinprint combine shell.stl wider.stl vented.stl -o both.stl --take 1=a,2=both
  kinprint combine cuff/left@A cuff/left-wide@A cuff/left-vented@B left-both`,
    )
    .action(async (base: string, a: string, b: string, to: string | undefined, options: CombineFlags) => {
      if (to === undefined) {
        const { combineMeshesCommand } = await import('../commands/combine-meshes.ts');
        settle(await combineMeshesCommand({ base, a, b }, options, io));
      } else {
        const { combineVariantsCommand } = await import('../commands/combine-variants.ts');
        settle(await combineVariantsCommand({ base, a, b }, to, options, io));
      }
    });
}
