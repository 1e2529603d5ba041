import { checkDefaults } from '../defaults.ts';

/**
 * Why a path cannot be kept on every usual file system; null when it can.
 *
 * @remarks Rules of Windows as its documentation 'Naming Files, Paths, and Namespaces' gives them, from memory: some
 *   characters, some names whatever their ending, names that end in a dot or blank.
 */
export function nameTrouble(path: string): string | null {
  for (const name of path.split('/')) {
    const quoted = `'${name}'`;
    if (!name.isWellFormed()) return `The name ${quoted} is not valid UTF-8.`;
    const bad = /[<>:"|?*\\\u0000-\u001f\u007f]/.exec(name)?.[0];
    if (bad !== undefined) return `The name ${quoted} holds '${bad}', which some file systems cannot keep.`;
    if (/[. ]$/.test(name)) return `The name ${quoted} ends in a dot or blank, which some file systems drop.`;
    if (/^(con|prn|aux|nul|com[0-9]|lpt[0-9])(\.|$)/i.test(name))
      return `The name ${quoted} means a device to some systems.`;
    if (Buffer.byteLength(name) > checkDefaults.maxNameBytes)
      return `The name ${quoted} is longer than ${checkDefaults.maxNameBytes} bytes.`;
  }
  return null;
}
