import { InputError } from '@kinprint/mesh';
import { registryDefaults } from '../defaults.ts';

/**
 * Why a path cannot be kept on every usual file system; null when it can.
 *
 * @remarks Rules of Windows as its documentation 'Naming Files, Paths, and Namespaces' gives them, from memory: some
 *   characters, names of devices whatever their ending, names that end in a dot or blank.
 */
export function nameTrouble(path: string): string | null {
  for (const name of path.split('/')) {
    const quoted = `'${name}'`;
    if (!name.isWellFormed()) return `The name ${quoted} is not valid UTF-8.`;
    const bad = /[<>:"|?*\\\u0000-\u001f\u007f]/.exec(name)?.[0];
    if (bad !== undefined) return `The name ${quoted} holds '${bad}', which some file systems cannot keep.`;
    if (/[. ]$/.test(name)) return `The name ${quoted} ends in a dot or blank, which some file systems drop.`;
    if (isDeviceName(name)) return `The name ${quoted} means a device to some systems.`;
    if (Buffer.byteLength(name) > registryDefaults.maxNameBytes)
      return `The name ${quoted} is longer than ${registryDefaults.maxNameBytes} bytes.`;
  }
  return null;
}

/** Whether a name, with whatever ending, is that of a console, printer or port on Windows. */
export function isDeviceName(name: string): boolean {
  return /^(con|conin\$|conout\$|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³]) *(\.|$)/i.test(name);
}

/** Paths that many file systems take for one have one fold: without case, in one Unicode normal form (UAX 15). */
export function foldPath(path: string): string {
  return path.normalize('NFC').toLowerCase();
}

/** @throws InputError `name-unsafe` for a path that we would make and that not every usual file system can keep */
export function requirePortable(path: string): void {
  const trouble = nameTrouble(path);
  if (trouble !== null)
    throw new InputError('name-unsafe', trouble, 'Choose another name; nothing was made.', { file: path });
}

/**
 * Of paths, every file or folder whose own name another one beside it has but for case or Unicode form, with that
 * other; what lies in such a folder is not told again.
 */
export function clashes(paths: Iterable<string>): { readonly path: string; readonly other: string }[] {
  const spelled = new Map<string, string>();
  const told = new Set<string>();
  const found: { readonly path: string; readonly other: string }[] = [];
  for (const path of paths) {
    const steps = path.split('/');
    for (let k = 1; k <= steps.length; k++) {
      const part = steps.slice(0, k).join('/');
      const other = spelled.get(foldPath(part)) ?? part;
      spelled.set(foldPath(part), other);
      if (other === part) continue;
      if (!told.has(part)) found.push({ path: part, other });
      told.add(part);
      break;
    }
  }
  return found;
}
