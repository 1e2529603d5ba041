import path from 'node:path';
import { InputError, transformMesh } from '@kinprint/mesh';
import { comparePair, wholeMesh, type NamedPlacement } from '@kinprint/registry';
import {
  assemblyPicture,
  changePicture,
  partPicture,
  partsPicture,
  pictureDefaults,
  pictureJson,
  pictureText,
  sheetPng,
  sheetSvg,
  viewWords,
  type Drawn,
  type PictureFormat,
} from '@kinprint/report';
import { exit, type Io } from '../io.ts';
import { checkOutputs } from '../outputs.ts';
import { writeOutput } from '../write-output.ts';
import type { PictureFlags } from './picture-flags.ts';
import { openPictured, type Pictured } from './pictured.ts';

/** `kinprint picture MESH|VARIANT[/PART] [--against BEFORE]`. */
export async function pictureCommand(mesh: string, flags: PictureFlags, io: Io): Promise<number> {
  const format = formatOf(flags.output);
  const options = optionsOf(flags);
  await checkOutputs(io.cwd, [{ option: '--output', file: flags.output }]);
  const pictured = await openPictured(flags, io);
  try {
    const subjects = await pictured.find(mesh);
    const drawn =
      flags.against === undefined
        ? await drawParts(
            mesh,
            subjects,
            flags.sideBySide === true ? [] : await pictured.placements(mesh),
            options,
          )
        : await drawChange(
            one(mesh, subjects),
            one(flags.against, await pictured.find(flags.against)),
            options,
          );
    const { sheet } = drawn.picture;
    await writeOutput(
      path.resolve(io.cwd, flags.output),
      format === 'png' ? sheetPng(sheet) : sheetSvg(sheet),
    );
    io.out(
      `${flags.json ? JSON.stringify(pictureJson(flags.output, format, drawn), null, 2) : pictureText(flags.output, drawn)}\n`,
    );
    return exit.fine;
  } finally {
    await pictured.close();
  }
}

type Options = Parameters<typeof partPicture>[2];

async function drawParts(
  name: string,
  subjects: readonly Pictured[],
  placements: readonly NamedPlacement[],
  options: Options,
): Promise<Drawn> {
  const parts: { name: string; mesh: ReturnType<typeof wholeMesh> }[] = [];
  for (const { entry, unit, name } of subjects)
    parts.push({ name, mesh: await readWhole(name, entry, unit) });
  const short = parts.map(part => ({ ...part, name: part.name.split('/').at(-1) ?? part.name }));
  const meshes = new Map(short.map(part => [part.name, part.mesh]));
  const placed = placements.flatMap(({ name, part, motion }) => {
    const mesh = meshes.get(part);
    return mesh === undefined ? [] : [{ name, part, mesh, motion }];
  });
  const faces = placed.reduce((sum, { mesh }) => sum + mesh.triangles.length / 3, 0);
  if (placed.length > 1 && faces <= pictureDefaults.assemblyFaces) {
    const standing = placed.map(({ name, mesh, motion }) => ({ name, mesh: transformMesh(mesh, motion) }));
    const known = new Set(placed.map(({ part }) => part));
    const unplaced = [...meshes.keys()].filter(part => !known.has(part));
    const names = placed.map(({ name }) => name);
    return {
      kind: 'assembly',
      name,
      placed: names,
      unplaced,
      picture: assemblyPicture(standing, unplaced, name, options),
    };
  }
  if (parts.length === 1) {
    const [{ name, mesh }] = parts;
    return { kind: 'part', name, picture: partPicture(mesh, name, options) };
  }
  const names = parts.map(part => part.name);
  return { kind: 'parts', name, parts: names, picture: partsPicture(short, name, options) };
}

async function readWhole(name: string, entry: Pictured['entry'], unit: Pictured['unit']) {
  try {
    return wholeMesh(await entry.open(), unit === null ? {} : { unit });
  } catch (error) {
    throw error instanceof InputError ? error.inFile(name) : error;
  }
}

async function drawChange(after: Pictured, before: Pictured, options: Options): Promise<Drawn> {
  const read = ({ unit }: Pictured) => (unit === null ? {} : { unit });
  const { comparison, shapes } = await comparePair(before.entry, after.entry, read(after), {
    beforeOptions: read(before),
    shapes: true,
  });
  if (shapes === null) throw new Error('The comparison kept no shapes.');
  const subject = { title: after.name, before: before.name, after: after.name, comparison, meshes: shapes };
  return { kind: 'change', subject, picture: changePicture(subject, options) };
}

function one(name: string, subjects: readonly Pictured[]): Pictured {
  if (subjects.length === 1) return subjects[0];
  throw new InputError(
    'part-needed',
    `'${name}' has ${subjects.length} parts; a change is drawn of one.`,
    `Name one of: ${subjects.map(each => each.name).join(', ')}.`,
  );
}

function formatOf(file: string): PictureFormat {
  const ending = path.extname(file).toLowerCase();
  if (ending === '.png' || ending === '.svg') return ending === '.png' ? 'png' : 'svg';
  throw new InputError(
    'picture-format',
    `'${file}' does not say what kind of picture it is to be.`,
    'Name a file that ends in .png or .svg.',
  );
}

function optionsOf({ size, from, against }: PictureFlags): NonNullable<Options> {
  if (from !== undefined && against !== undefined)
    throw new InputError(
      'from-and-against',
      'A change is looked at from where it shows best.',
      'Leave out --from.',
    );
  const least = pictureDefaults.least[against === undefined ? 'part' : 'change'];
  const { most } = pictureDefaults;
  if (size !== undefined) {
    const [width, height] = size;
    if (width < least.width || height < least.height || width > most.width || height > most.height)
      throw new InputError(
        'picture-size',
        `A picture of ${width} × ${height} is not drawn.`,
        `From ${least.width}x${least.height} to ${most.width}x${most.height}.`,
      );
  }
  const direction = from === undefined ? undefined : viewWords.get(from);
  return {
    ...(size === undefined ? {} : { width: size[0], height: size[1] }),
    ...(direction === undefined ? {} : { direction }),
  };
}
