import { registryDefaults } from '../defaults.ts';

/** Whether a file of this name may be a mesh. Hidden files are not looked at. */
export function mayBeMesh(name: string): boolean {
  const lower = name.toLowerCase();
  return (
    !lower.startsWith('.') &&
    registryDefaults.meshEndings.some(ending => lower.endsWith(ending) && lower.length > ending.length)
  );
}

/** Whether a folder of this name is left out: hidden ones (`.git` among them) and what package managers fill. */
export function isSkippedFolder(name: string): boolean {
  return name.startsWith('.') || (registryDefaults.skippedFolders as readonly string[]).includes(name);
}
