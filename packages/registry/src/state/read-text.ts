import type { Problem } from '@kinprint/manifest';
import { InputError } from '@kinprint/mesh';
import { layoutProblem } from './layout-problem.ts';
import type { FileRef, RegistryFiles } from './registry-files.ts';

export interface TextFile {
  /** null when the file cannot be read. */
  readonly text: string | null;
  readonly problem: Problem | null;
}

/**
 * A document's text. Of a file beyond `most` bytes only so many are read, and one more, so that whoever reads the
 * text sees that it is too long.
 */
export async function readTextFile(files: RegistryFiles, ref: FileRef, most: number): Promise<TextFile> {
  try {
    const bytes = await files.bytes(ref, most + 1);
    try {
      return {
        text: new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes),
        problem: null,
      };
    } catch {
      const text = 'The file is not written in UTF-8.';
      return {
        text: null,
        problem: layoutProblem('not-utf8', 'error', ref.path, text, 'Save it as UTF-8.'),
      };
    }
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const { message, remedy } = error;
    return { text: null, problem: layoutProblem('file-unreadable', 'error', ref.path, message, remedy) };
  }
}
