import { deviceFile, registryFile, variantFile } from './registry-files.ts';

/** Whether a file is to be listed, or a folder entered, by its path from the registry's root. */
export type Wanted = (path: string) => boolean;

/** What belongs to one variant, with its device.yaml and registry.yaml, and the folders on the way. */
export function oneVariant(address: string): Wanted {
  const folder = `devices/${address}`;
  const device = `devices/${address.split('/')[0]}`;
  const others = new Set([registryFile, 'devices', device, folder, `${device}/${deviceFile}`]);
  return path => others.has(path) || path.startsWith(`${folder}/`);
}

/**
 * The documents of all devices and variants, without what else lies in the variants' folders: enough for whoever asks
 * nothing of parts. Of some variants everything.
 *
 * @param whole their addresses
 */
export function documentsAnd(whole: readonly string[]): Wanted {
  const kept = whole.map(address => `devices/${address}/`);
  return path => {
    const [top, , , file, ...below] = path.split('/');
    if (top !== 'devices' || file === undefined) return true;
    return (file === variantFile && below.length === 0) || kept.some(folder => path.startsWith(folder));
  };
}
