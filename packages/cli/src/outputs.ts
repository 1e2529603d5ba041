import { constants } from 'node:fs';
import { access, stat } from 'node:fs/promises';
import path from 'node:path';
import { InputError } from '@kinprint/mesh';

/** What a command was told to write, as the user named it. */
export interface Output {
  /** The option that names it, `--html`. */
  readonly option: string;
  /** Undefined where the option was not given. */
  readonly file: string | undefined;
  /** A folder that is made beside it. */
  readonly folder?: string;
}

/**
 * Looks, before any work, whether the outputs of a command can be written, so that a slip of the pen does not cost minutes,
 * nor one result another.
 *
 * @throws InputError `output-twice` where two would be written to one place, `output-unwritable`
 */
export async function checkOutputs(cwd: string, outputs: readonly Output[]): Promise<void> {
  const taken = new Map<string, string>();
  for (const { option, file, folder } of outputs) {
    if (file === undefined) continue;
    const whole = path.resolve(cwd, file);
    claim(taken, whole, option, file);
    await writableFile(whole, file);
    if (folder === undefined) continue;
    const beside = path.resolve(cwd, folder);
    claim(taken, beside, `the pictures of ${option}`, folder);
    await folderOrNothing(beside, folder);
  }
}

function claim(taken: Map<string, string>, whole: string, by: string, file: string): void {
  const other = taken.get(whole);
  if (other !== undefined)
    throw new InputError(
      'output-twice',
      `${capital(other)} and ${by} name the same place.`,
      'Give each a name of its own.',
      { file },
    );
  taken.set(whole, by);
}

async function writableFile(whole: string, file: string): Promise<void> {
  const there = await stat(whole).catch(() => null);
  if (there?.isDirectory() === true || file === '' || /[/\\]$/.test(file))
    throw refused('There is a folder of this name.', file);
  // What is written is renamed into place: that would put an end to a device or a pipe.
  if (there !== null && !there.isFile()) throw refused('There is something other than a file.', file);
  const parent = path.dirname(whole);
  const above = await stat(parent).catch(() => null);
  if (above?.isDirectory() !== true) throw refused('There is no folder to write it to.', file);
  try {
    await access(parent, constants.W_OK);
  } catch {
    throw refused('Its folder may not be written to.', file);
  }
}

async function folderOrNothing(whole: string, folder: string): Promise<void> {
  const there = await stat(whole).catch(() => null);
  if (there !== null && !there.isDirectory())
    throw new InputError(
      'output-unwritable',
      'The folder for the pictures cannot be made: something else has its name.',
      'Move away what is there, or name the text otherwise.',
      { file: folder },
    );
}

function refused(why: string, file: string): InputError {
  return new InputError(
    'output-unwritable',
    `The result cannot be written. ${why}`,
    'Name a file in a folder that you can write to.',
    { file },
  );
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
