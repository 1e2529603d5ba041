import { InvalidArgumentError, Option, type Command } from 'commander';
import type { PictureFlags } from '../commands/picture-flags.ts';
import type { Io } from '../io.ts';
import { unitOption } from './options.ts';
import type { Settle } from './settle.ts';

const directions = [
  ...['front', 'back'].flatMap(face => ['right', 'left'].map(side => `${face}-${side}`)),
  ...['front', 'back'].flatMap(face => ['right', 'left'].map(side => `${face}-${side}-below`)),
  ...['front', 'back', 'right', 'left', 'top', 'bottom'],
];

export function addPicture(program: Command, io: Io, settle: Settle): void {
  program
    .command('picture')
    .description('draw a part, all parts of a variant, or what changed in a part, as PNG or SVG')
    .argument('<mesh>', 'a mesh file; or device/variant[@letter][/part] of the registry')
    .option('--against <before>', 'draw what changed since this one, named likewise')
    .requiredOption('-o, --output <file>', 'write to this file, .png or .svg')
    .option('--size <WxH>', 'pixels (default: 1200x900; of a change 1500x1060)', size)
    .addOption(
      new Option('--from <direction>', 'look at the part from here (default: front-right)').choices(
        directions,
      ),
    )
    .option('--side-by-side', 'draw the parts of a variant side by side, not put together')
    .option('--repo <dir>', 'read from the history of this git repository; meshes are then REV:path')
    .option('--registry <dir>', 'the folder that holds registry.yaml (default: found upward from here)')
    .addOption(unitOption())
    .option('--json', 'print JSON', false)
    .addHelpText(
      'after',
      `
Draws without screen, browser or font; the same input gives the same bytes.
Of a variant that places two parts or more, these are drawn put together.
Directions with 'below' look up at the part.

Examples:
  kinprint picture shell.stl -o shell.png
  kinprint picture cuff/left -o parts.svg --size 1600x900
  kinprint picture cuff/left/shell --against cuff/left@A/shell -o change.png
  kinprint picture --repo . HEAD:shell.stl --against v1:shell.stl -o change.png`,
    )
    .action(async (mesh: string, options: PictureFlags) => {
      const { pictureCommand } = await import('../commands/picture.ts');
      settle(await pictureCommand(mesh, options, io));
    });
}

function size(text: string): readonly [number, number] {
  const match = /^(\d{1,5})[x×](\d{1,5})$/.exec(text);
  if (match === null) throw new InvalidArgumentError('Write width x height in pixels: 1200x900.');
  return [Number(match[1]), Number(match[2])];
}
