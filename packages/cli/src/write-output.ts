import { randomUUID } from 'node:crypto';
import { rmSync } from 'node:fs';
import { mkdir, open, rename, rm } from 'node:fs/promises';
import { InputError } from '@kinprint/mesh';
import { atExit } from '@kinprint/registry';

/**
 * Writes a result to a file that the user named: beside it first, then renamed, so that it is never half there.
 *
 * @param file absolute
 * @throws InputError `output-unwritable`
 */
export async function writeOutput(file: string, content: string | Uint8Array): Promise<void> {
  await streamOutput(file, write => write(content));
}

/**
 * The same for a result that is made piece by piece.
 *
 * @throws InputError `output-unwritable`; whatever `produce` throws, and then nothing is written
 */
export async function streamOutput(
  file: string,
  produce: (write: (piece: string | Uint8Array) => Promise<void>) => Promise<void>,
): Promise<void> {
  const beside = `${file}.${randomUUID().slice(0, 8)}.tmp`;
  const kept = atExit(() => rmSync(beside, { force: true }));
  try {
    const handle = await writable(file, open(beside, 'wx'));
    try {
      await produce(piece => writable(file, handle.appendFile(piece)));
      await writable(file, handle.sync());
    } finally {
      await handle.close();
    }
    await writable(file, rename(beside, file));
  } catch (error) {
    await rm(beside, { force: true });
    throw error;
  } finally {
    kept();
  }
}

/**
 * Makes a folder for pictures, and those above it.
 *
 * @throws InputError `output-unwritable`
 */
export async function pictureFolder(folder: string): Promise<void> {
  await writable(folder, mkdir(folder, { recursive: true }), [
    'The folder for the pictures cannot be made',
    'Move away what is there, or name the text otherwise.',
  ]);
}

const unwritten = ['The result cannot be written', 'Name a file in a folder that you can write to.'] as const;

async function writable<T>(
  file: string,
  step: Promise<T>,
  [what, remedy]: readonly [string, string] = unwritten,
): Promise<T> {
  try {
    return await step;
  } catch (error) {
    const reason = error instanceof Error && 'code' in error ? String(error.code) : String(error);
    throw new InputError('output-unwritable', `${what} (${reason}).`, remedy, { file });
  }
}
