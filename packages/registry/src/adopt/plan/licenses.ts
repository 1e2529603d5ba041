import { baseName } from './names.ts';
import type { SourceFile, SourceState } from '../source/types.ts';
import { readLicense, type LicenseReading } from '../judge/license-text.ts';

/** What a state says of licenses. */
export interface StateLicense {
  /** Of the whole; null when nothing certain is said. */
  readonly expression: string | null;
  /** What a person must know to settle it; null when it is certain. */
  readonly question: string | null;
  /** The license of a mesh that differs from the whole's. */
  of(mesh: string): string | null;
}

/** Reads the beginning of a text file; null when it cannot be read. */
export type ReadText = (file: SourceFile) => Promise<string | null>;

/**
 * The license of a state: what the license files at its top say, else its README. A license file in a folder holds
 * for what lies below it.
 */
export async function licenseOf(
  state: SourceState,
  read: ReadText,
  valid: (expression: string) => boolean,
): Promise<StateLicense> {
  const readings: { folder: string; path: string; reading: LicenseReading }[] = [];
  for (const file of state.files) {
    if (file.kind !== 'license' && file.kind !== 'readme') continue;
    const text = await read(file);
    if (text === null) continue;
    const folder = file.path.slice(0, Math.max(0, file.path.lastIndexOf('/'))).replace(/(^|\/)LICENSES$/, '');
    readings.push({ folder, path: file.path, reading: readLicense(text, file.kind === 'license', valid) });
  }
  const certainIn = (folder: string): string | null => {
    const found = new Set(
      readings.flatMap(({ folder: own, reading }) =>
        own === folder && reading.kind === 'certain' ? [reading.expression] : [],
      ),
    );
    return found.size === 1 ? [...found][0] : null;
  };
  const meshes = state.files.filter(file => file.kind === 'mesh').map(file => nearest(file.path, certainIn));
  const shared = new Set(meshes).size === 1 ? (meshes[0] ?? null) : null;
  const expression = certainIn('') ?? shared;
  return {
    expression,
    question: expression === null ? questionText(readings) : null,
    of: mesh => {
      const own = nearest(mesh, certainIn);
      return own === expression ? null : own;
    },
  };
}

/** What the nearest folder upwards says. */
function nearest(path: string, certainIn: (folder: string) => string | null): string | null {
  for (let folder = path; folder !== '';) {
    folder = folder.slice(0, Math.max(0, folder.lastIndexOf('/')));
    const found = certainIn(folder);
    if (found !== null) return found;
  }
  return null;
}

function questionText(
  readings: readonly { readonly path: string; readonly reading: LicenseReading }[],
): string {
  const certain = readings.filter(({ reading }) => reading.kind === 'certain');
  if (certain.length > 1)
    return `Which license holds? ${certain.map(({ path, reading }) => `${path} says ${reading.kind === 'certain' ? reading.expression : ''}`).join(', ')}.`;
  const guess = readings.find(({ reading }) => reading.kind === 'guess');
  if (guess?.reading.kind === 'guess')
    return guess.reading.expression === null
      ? `Which license? ${guess.path} has ${guess.reading.by}.`
      : `Which license? ${guess.path} suggests ${guess.reading.expression} by ${guess.reading.by}.`;
  const file = readings.find(({ path }) => !/^readme/i.test(baseName(path)));
  return file === undefined
    ? 'Which license? Nothing names one, so all rights are reserved: ask the authors.'
    : `Which license? ${file.path} is a text that is not known here.`;
}
