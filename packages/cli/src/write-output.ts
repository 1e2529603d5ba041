import { randomUUID } from 'node:crypto';
import { open, rename, rm } from 'node:fs/promises';
import { InputError } from '@kinprint/mesh';

/**
 * Writes a result to a file that the user named: beside it first, then renamed, so that it is never half there.
 *
 * @param file absolute
 * @throws InputError `output-unwritable`
 */
export async function writeOutput(file: string, content: string | Uint8Array): Promise<void> {
  const beside = `${file}.${randomUUID().slice(0, 8)}.tmp`;
  try {
    const handle = await open(beside, 'wx');
    try {
      await handle.writeFile(content);
      await handle.sync();
    } finally {
      await handle.close();
    }
    await rename(beside, file);
  } catch (error) {
    await rm(beside, { force: true });
    const reason = error instanceof Error && 'code' in error ? String(error.code) : String(error);
    throw new InputError(
      'output-unwritable',
      `The result cannot be written (${reason}).`,
      'Name a file in a folder that you can write to.',
      { file },
    );
  }
}
